import { measureName } from "../../head/measurementChecks";
import type { Estimate } from "../../head/measurements";
import { READING_LIMITS, summaryOfReadings, TAKEN_FIELDS, type TakenField } from "../../head/readings";
import { MM_PER, type Unit } from "../../head/units";
import { type TakenMeasures, toleranceOf } from "../../head/wearerMeasures";

/** What was measured of a wearer and what was not, in the units of the wearer's file. */
export interface MeasuringReport {
  readonly format: "anadem-measuring";
  readonly formatVersion: 1;
  readonly wearer: string;
  readonly units: Unit;
  readonly measured: readonly MeasuredLine[];
  readonly missing: readonly MissingLine[];
}

export interface MeasuredLine {
  readonly measure: TakenField;
  readonly value: number;
  /** Two standard errors; absent where the value is taken as exact. */
  readonly tolerance?: number;
  readonly readings?: readonly number[];
  /** Between the least and the greatest reading. */
  readonly difference?: number;
  /** By how much they may differ. */
  readonly differenceAllowed: number;
}

export interface MissingLine {
  readonly measure: TakenField;
  /** What it is taken to be; absent where that is not known. */
  readonly estimate?: number;
  /** Two standard errors of the estimate. */
  readonly tolerance?: number;
}

/**
 * Composes what is known of a wearer's measures.
 * @param estimated the measures that were not taken, mm
 */
export function composeMeasuringReport(
  wearer: string,
  units: Unit,
  taken: TakenMeasures,
  estimated: readonly Estimate[],
): MeasuringReport {
  const inUnits = (mm: number): number => roundedIn(mm, units);
  return {
    format: "anadem-measuring",
    formatVersion: 1,
    wearer,
    units,
    measured: TAKEN_FIELDS.flatMap((measure): MeasuredLine[] => {
      const one = taken[measure];
      if (!one) return [];
      const { value, standardError, readings } = one;
      return [
        {
          measure,
          value: inUnits(value),
          ...(standardError !== undefined && { tolerance: inUnits(toleranceOf(standardError)) }),
          ...(readings && {
            readings: readings.map(inUnits),
            difference: inUnits(summaryOfReadings(measure, readings).difference),
          }),
          differenceAllowed: inUnits(READING_LIMITS[measure]),
        },
      ];
    }),
    missing: TAKEN_FIELDS.filter((measure) => !taken[measure]).map((measure) => {
      const estimate = estimated.find(({ field }) => field === measure);
      return {
        measure,
        ...(estimate && {
          estimate: inUnits(estimate.value),
          tolerance: inUnits(toleranceOf(estimate.standardError)),
        }),
      };
    }),
  };
}

/** A length in mm as a number of units, as fine as one reads it: tenths of mm, hundredths of cm and in. */
export const roundedIn = (mm: number, units: Unit): number =>
  Number((mm / MM_PER[units]).toFixed(units === "mm" ? 1 : 2));

/** The report for a person. */
export function measuringText({ wearer, units, measured, missing }: MeasuringReport): string {
  const names = [...measured, ...missing].map(({ measure }) => measureName(measure));
  const width = Math.max(...names.map(({ length }) => length));
  const line = (measure: TakenField, words: string): string =>
    `  ${measureName(measure).padEnd(width)}  ${words}`;
  return [
    `Measures of ${wearer}`,
    ...measured.map((one) => line(one.measure, measuredWords(one, units))),
    ...(missing.length > 0 ? ["Not measured, so estimated:"] : []),
    ...missing.map((one) => line(one.measure, missingWords(one, units))),
    "",
  ].join("\n");
}

/** `53.5 cm ± 0.3 (53.4 and 53.6 differ by 0.2; up to 0.6 is usual)` */
export function measuredWords(
  { value, tolerance, readings, difference, differenceAllowed }: MeasuredLine,
  units: Unit,
): string {
  const whole = `${value} ${units}${tolerance === undefined ? "" : ` ± ${tolerance}`}`;
  if (!readings) return whole;
  if (readings.length === 1) return `${whole} (one reading: take a second)`;
  const list = `${readings.slice(0, -1).join(", ")} and ${readings[readings.length - 1]}`;
  return `${whole} (${list} differ by ${difference}; up to ${differenceAllowed} is usual)`;
}

/** `18.3 cm ± 1 (two standard errors)` */
export const missingWords = ({ estimate, tolerance }: MissingLine, units: Unit): string =>
  estimate === undefined ? "not known" : `${estimate} ${units} ± ${tolerance} (two standard errors)`;
