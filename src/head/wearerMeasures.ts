import type { Message } from "../message";
import { measureName } from "./measurementChecks";
import type { MeasureField } from "./measurements";
import { type ReadingsSummary, summaryOfReadings, TAKEN_FIELDS, type TakenField } from "./readings";
import { inUnit, MM_PER, type Unit } from "./units";
import { type Fields, isFields, typeName, type WearerReader } from "./wearerReader";

/** A measure as a wearer's document gives it, mm. */
export interface TakenMeasure {
  /** What counts: the number that is given, or the mean of the readings. */
  readonly value: number;
  /** Absent where it is taken as exact. */
  readonly standardError?: number;
  /** As they were taken. */
  readonly readings?: readonly number[];
}

export type TakenMeasures = Readonly<Partial<Record<TakenField, TakenMeasure>>>;

/** A tolerance is what two standard errors make: the true value lies within it nineteen times of twenty. */
const ERRORS_IN_TOLERANCE = 2;

/** Tolerance of a standard error, in the same unit. */
export const toleranceOf = (standardError: number): number => ERRORS_IN_TOLERANCE * standardError;

const HOW = 'Write a number, { "value": number, "tolerance": number }, or { "readings": [number, number] }.';

/** Reads the measures of a document; each may be a number, a value with a tolerance, or readings. */
export const readMeasures = (reader: WearerReader, document: Fields, unit: Unit): TakenMeasures => {
  const taken: Partial<Record<TakenField, TakenMeasure>> = {};
  for (const field of TAKEN_FIELDS) {
    const value = document[field];
    if (value === undefined) continue;
    const measure = isFields(value)
      ? readGroup(reader, value, field, unit)
      : readPlain(reader, value, field, unit);
    if (measure) taken[field] = measure;
  }
  return taken;
};

/** Standard errors of what was measured, mm; those of exact numbers are not among them. */
export const errorsOf = (taken: TakenMeasures): Partial<Record<MeasureField, number>> =>
  Object.fromEntries(
    TAKEN_FIELDS.flatMap((field) => {
      const error = taken[field]?.standardError;
      return error === undefined ? [] : [[field, error]];
    }),
  );

const readPlain = (
  reader: WearerReader,
  value: unknown,
  field: TakenField,
  unit: Unit,
): TakenMeasure | undefined => {
  if (Array.isArray(value)) {
    reader.error(
      "wrong-type",
      field,
      `"${field}" must be a number or a group, not a list.`,
      `Write { "readings": ${JSON.stringify(value)} }.`,
    );
    return undefined;
  }
  const number = reader.number(value, field, false);
  return number === undefined ? undefined : { value: number * MM_PER[unit] };
};

const readGroup = (
  reader: WearerReader,
  group: Fields,
  field: TakenField,
  unit: Unit,
): TakenMeasure | undefined => {
  reader.keys(group, ["value", "tolerance", "readings"], `${field}.`);
  const scale = MM_PER[unit];
  const tolerance =
    group.tolerance === undefined ? undefined : reader.number(group.tolerance, `${field}.tolerance`, true);
  const stated = tolerance === undefined ? undefined : (tolerance * scale) / ERRORS_IN_TOLERANCE;
  if ((group.value === undefined) === (group.readings === undefined)) {
    reader.error(
      "measure-ambiguous",
      field,
      `"${field}" must give either "value" or "readings"${group.value === undefined ? "" : ", not both"}.`,
      HOW,
    );
    return undefined;
  }
  if (group.value !== undefined) {
    const value = reader.number(group.value, `${field}.value`, false);
    if (value === undefined) return undefined;
    return { value: value * scale, ...(stated !== undefined && { standardError: stated }) };
  }
  const readings = readReadings(reader, group.readings, field);
  if (!readings) return undefined;
  const mm = readings.map((reading) => reading * scale);
  const summary = summaryOfReadings(field, mm);
  const doubt = readingsDoubt(field, mm, summary, unit);
  if (doubt) reader.messages.push(doubt);
  return { value: summary.mean, standardError: stated ?? summary.standardError, readings: mm };
};

const readReadings = (reader: WearerReader, value: unknown, field: TakenField): number[] | undefined => {
  if (!Array.isArray(value) || value.length === 0) {
    reader.error(
      "wrong-type",
      `${field}.readings`,
      `"${field}.readings" must be a list of numbers, not ${Array.isArray(value) ? "an empty one" : typeName(value)}.`,
      'Write each reading as it was taken: "readings": [567, 570].',
    );
    return undefined;
  }
  const readings = value.map((one, index) => reader.number(one, `${field}.readings.${index}`, false));
  return readings.every((one) => one !== undefined) ? (readings as number[]) : undefined;
};

/** A warning where readings of a measure (mm) differ by more than they should; undefined where they do not. */
export const readingsDoubt = (
  field: TakenField,
  readings: readonly number[],
  { difference, limit, differ, apart }: ReadingsSummary,
  unit: Unit,
): Message | undefined => {
  if (!differ) return undefined;
  const texts = readings.map((reading) => inUnit(reading, unit));
  const list = `${texts.slice(0, -1).join(", ")} and ${texts[texts.length - 1]}`;
  const stray = apart === undefined ? "" : ` ${texts[apart]} stands apart from the others.`;
  return {
    id: "readings-differ",
    severity: "warning",
    field,
    text: `The readings of the ${measureName(field)}, ${list}, differ by ${inUnit(difference, unit)}; more than ${inUnit(limit, unit)} is too much.${stray}`,
    suggestion:
      apart === undefined
        ? "Measure a third time: the two that lie nearest to each other are likely right."
        : `Take ${texts[apart]} out if the others are right, or measure once more.`,
  };
};
