import type { Message } from "../message";
import { ESTIMATED_FIELDS, expectation } from "./estimate";
import { checkCompleted, checkGiven } from "./measurementChecks";
import {
  type Estimate,
  type GivenMeasurements,
  type MeasureField,
  type Measurements,
  USUAL_HAIR_THICKNESS,
} from "./measurements";
import { LEAST_ADULT_GIRTH } from "./population";
import type { Unit } from "./units";

export interface Completion {
  readonly measurements: Measurements;
  readonly estimated: readonly Estimate[];
  /** Errors for what cannot be, warnings for what is unusual; each names its field. */
  readonly findings: readonly Message[];
}

const round = (value: number): number => Math.round(value * 10) / 10;

/**
 * Fills in the measures that were not taken from those that were, by regression on ANSUR II (both sexes pooled),
 * and checks the set. Where the girth is below the survey's adults, the head is taken as a scaled-down adult's,
 * and a warning says so. With errors among the findings the measurements must not be built from.
 * `unit` only serves the wording of the findings.
 */
export const completeMeasurements = (given: GivenMeasurements, unit: Unit = "mm"): Completion => {
  const findings = checkGiven(given, unit);
  const known = new Map<MeasureField, number>();
  const scale = Math.min(1, given.girth / LEAST_ADULT_GIRTH);
  for (const field of ESTIMATED_FIELDS) {
    const value = given[field];
    if (value !== undefined && Number.isFinite(value)) known.set(field, value / scale);
  }
  const from = [...known.keys()];
  const measurements: { -readonly [Field in MeasureField]: number | undefined } = {
    hairThickness: USUAL_HAIR_THICKNESS,
    ...given,
  } as Measurements as { -readonly [Field in MeasureField]: number | undefined };
  const estimated: Estimate[] = [];
  if (known.has("girth")) {
    for (const field of ESTIMATED_FIELDS) {
      if (known.has(field)) continue;
      const { value, standardError } = expectation(field, known);
      measurements[field] = round(value * scale);
      estimated.push({
        field,
        value: round(value * scale),
        standardError: round(standardError * scale),
        from,
      });
    }
  }
  const complete = measurements as Measurements;
  if (!findings.some((finding) => finding.severity === "error")) {
    findings.push(...checkCompleted(given, complete, unit));
  }
  return { measurements: complete, estimated, findings };
};
