import { completeMeasurements } from "../../head/completeMeasurements";
import { buildHeadForm, type HeadForm } from "../../head/headForm";
import { MEAN_GIRTH } from "../../head/population";

let form: HeadForm | undefined;

/** The head form of a head of mean size, which measures are drawn on. Made once. */
export const meanHead = (): HeadForm => {
  form ??= buildHeadForm(completeMeasurements({ girth: MEAN_GIRTH }).measurements);
  return form;
};
