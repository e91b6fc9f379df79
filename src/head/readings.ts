import type { MeasureField } from "./measurements";

/** Measures that are taken with tape, calipers or a rule, in the order of taking; hair is a guess. */
export const TAKEN_FIELDS = [
  "girth",
  "length",
  "breadth",
  "crownHeight",
  "bitragionArc",
  "earLength",
  "earProtrusion",
  "interpupillaryDistance",
  "neckGirth",
] as const satisfies readonly MeasureField[];
export type TakenField = (typeof TAKEN_FIELDS)[number];

/**
 * By how much two readings of a measure may differ, mm (common practice, no source). They are wider than what trained
 * measurers keep to: ISO 20685 allows head measures 1 mm on bare skin and 2 mm over hair, and small girths 4 mm.
 */
export const READING_LIMITS: Readonly<Record<TakenField, number>> = {
  girth: 6,
  length: 3,
  breadth: 3,
  crownHeight: 6,
  bitragionArc: 6,
  earLength: 3,
  earProtrusion: 3,
  interpupillaryDistance: 3,
  neckGirth: 8,
};

/**
 * Two readings of one quantity differ by more than 2.8 of their standard deviations in one of twenty cases: the
 * repeatability limit (ISO 5725-6:1994, 4.1.4; from memory).
 */
const LIMIT_IN_DEVIATIONS = 2.8;

/** Several readings of one measure, mm. */
export interface ReadingsSummary {
  readonly mean: number;
  /** Of the mean. */
  readonly standardError: number;
  /** Between the least and the greatest. */
  readonly difference: number;
  readonly limit: number;
  /** Whether they differ by more than the limit. */
  readonly differ: boolean;
  /** Which stands apart from the others, where there are three or more and they differ: its index. */
  readonly apart?: number;
}

/**
 * What readings of a measure come to, mm: their mean, and its standard error s / √n, where s is the deviation that two
 * readings of that measure usually have, or that of these readings where it is greater.
 * @param readings mm, at least one
 */
export const summaryOfReadings = (field: TakenField, readings: readonly number[]): ReadingsSummary => {
  const count = readings.length;
  const mean = readings.reduce((sum, reading) => sum + reading, 0) / count;
  const squares = readings.reduce((sum, reading) => sum + (reading - mean) ** 2, 0);
  const own = count > 1 ? Math.sqrt(squares / (count - 1)) : 0;
  const limit = READING_LIMITS[field];
  const difference = Math.max(...readings) - Math.min(...readings);
  // Inches and centimetres leave crumbs of rounding.
  const differ = difference > limit + 1e-6;
  return {
    mean,
    standardError: Math.max(own, limit / LIMIT_IN_DEVIATIONS) / Math.sqrt(count),
    difference,
    limit,
    differ,
    ...(differ && count > 2 && { apart: farthestFromMiddle(readings) }),
  };
};

const farthestFromMiddle = (readings: readonly number[]): number => {
  const sorted = [...readings].sort((a, b) => a - b);
  const half = sorted.length / 2;
  const middle = (sorted[Math.ceil(half) - 1] + sorted[Math.floor(half)]) / 2;
  const off = readings.map((reading) => Math.abs(reading - middle));
  return off.indexOf(Math.max(...off));
};
