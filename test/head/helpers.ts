import {
  buildHeadForm,
  completeMeasurements,
  type GivenMeasurements,
  type HeadForm,
} from "../../src/head/index";

/** A head near the mean of the surveyed adults, mm. */
export const AVERAGE: GivenMeasurements = { girth: 570, length: 196, breadth: 152, crownHeight: 130 };

export const headOf = (given: GivenMeasurements): HeadForm =>
  buildHeadForm(completeMeasurements(given).measurements);
