/**
 * How head measures spread and go together in 4,046 adults, both sexes pooled as surveyed (2,722 men, 1,324 women,
 * aged 17 to 58). Computed from ANSUR II (Gordon et al. 2014, *2012 Anthropometric Survey of U.S. Army Personnel:
 * Methods and Summary Statistics*, NATICK/TR-15/007; a work of the US government). All mm.
 */

/** A measure that the survey took. */
export type SurveyedField =
  | "girth"
  | "length"
  | "breadth"
  | "crownHeight"
  | "earLength"
  | "earProtrusion"
  | "interpupillaryDistance"
  | "neckGirth";

export interface SurveyedMeasure {
  readonly field: SurveyedField;
  readonly mean: number;
  /** Standard deviation. */
  readonly deviation: number;
  /** Values at {@link PERCENTILES}. */
  readonly quantiles: readonly number[];
}

/** The percentiles that the quantiles below stand for; 0 and 100 are the least and the greatest. */
export const PERCENTILES: readonly number[] = [0, 0.1, 1, 5, 25, 50, 75, 95, 99, 99.9, 100];

export const SURVEY: readonly SurveyedMeasure[] = [
  {
    field: "girth",
    mean: 570.08,
    deviation: 18.248,
    quantiles: [502, 517, 527, 540, 558, 570, 582, 600, 614, 629.9, 635],
  },
  {
    field: "length",
    mean: 196.38,
    deviation: 8.503,
    quantiles: [168, 169, 176, 182, 191, 197, 202, 210, 215, 220, 225],
  },
  {
    field: "breadth",
    mean: 152.16,
    deviation: 6.171,
    quantiles: [132, 134, 138, 142, 148, 152, 156, 162, 167, 174, 177],
  },
  {
    field: "crownHeight",
    mean: 129.58,
    deviation: 6.622,
    quantiles: [105, 107, 114, 118, 125, 130, 134, 140, 144, 147, 149],
  },
  {
    field: "earLength",
    mean: 62.64,
    deviation: 4.871,
    quantiles: [46, 49, 52, 55, 59, 62, 66, 71, 74, 78, 81],
  },
  {
    field: "earProtrusion",
    mean: 22.25,
    deviation: 3.12,
    quantiles: [14, 15, 16, 17, 20, 22, 24, 28, 30, 33, 34],
  },
  {
    field: "interpupillaryDistance",
    mean: 63.27,
    deviation: 3.638,
    quantiles: [51, 53, 54.5, 57, 61, 63.5, 65.5, 69.5, 72, 75, 76.5],
  },
  {
    field: "neckGirth",
    mean: 375.46,
    deviation: 39.638,
    quantiles: [275, 285, 300, 310.2, 342, 381, 404, 437, 462.6, 484, 501],
  },
];

/** Correlations in the order of {@link SURVEY}, lower triangle. */
export const CORRELATION: readonly (readonly number[])[] = [
  [1.0],
  [0.8178, 1.0],
  [0.6052, 0.4106, 1.0],
  [0.4563, 0.4096, 0.4194, 1.0],
  [0.2886, 0.376, 0.2899, 0.23, 1.0],
  [0.1355, 0.1802, 0.2965, 0.2221, 0.39, 1.0],
  [0.4614, 0.4035, 0.4007, 0.2529, 0.2635, 0.1223, 1.0],
  [0.5076, 0.5868, 0.5746, 0.3572, 0.5179, 0.3362, 0.3924, 1.0],
];

/** Girth of a head of mean size: midway between the means of the survey's men and women, mm. */
export const MEAN_GIRTH = 568;

/** Girth below which the survey has next to nobody (its 0.1st percentile): a child's head, as a rule. */
export const LEAST_ADULT_GIRTH = 517;
/** The survey's 99.9th percentile of girth. */
export const GREATEST_ADULT_GIRTH = 630;

/**
 * Median head circumference of children, mm: WHO Child Growth Standards 2007, head circumference for age, 50th
 * percentile, mean of boys and girls.
 */
export const CHILD_GIRTHS: readonly { readonly months: number; readonly girth: number }[] = [
  { months: 6, girth: 427.5 },
  { months: 12, girth: 455 },
  { months: 24, girth: 477.5 },
  { months: 36, girth: 490 },
  { months: 48, girth: 497.5 },
  { months: 60, girth: 503 },
];

/** Share of the surveyed adults below a value of a measure, percent, interpolated between the quantiles. */
export const percentileOf = (field: SurveyedField, value: number): number => {
  const { quantiles } = SURVEY.find((measure) => measure.field === field) as SurveyedMeasure;
  if (value < quantiles[0]) return 0;
  for (let i = 1; i < quantiles.length; i++) {
    if (value <= quantiles[i]) {
      const share = (value - quantiles[i - 1]) / (quantiles[i] - quantiles[i - 1]);
      return PERCENTILES[i - 1] + share * (PERCENTILES[i] - PERCENTILES[i - 1]);
    }
  }
  return 100;
};
