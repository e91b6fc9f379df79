import type { MeasureField } from "./measurements";
import { CORRELATION, SURVEY } from "./population";

/**
 * Bitragion arc over the crown, mm, as a linear function of breadth and crown height, with its residual standard
 * deviation: fitted to the head forms of this project built from the survey's heads; the residual allows for
 * heads unlike the form and for the tape (an assumption, no source).
 */
export const ARC = { constant: -18.3, perBreadth: 0.78, perCrownHeight: 1.886, deviation: 5 };

/** Measures that estimates are made among. */
export const ESTIMATED_FIELDS: readonly MeasureField[] = [
  ...SURVEY.map((measure) => measure.field),
  "bitragionArc",
];

const COUNT = ESTIMATED_FIELDS.length;
const ARC_INDEX = COUNT - 1;

const buildModel = (): { mean: number[]; covariance: number[][] } => {
  const mean = SURVEY.map((measure) => measure.mean);
  const covariance = SURVEY.map((a, i) =>
    SURVEY.map((b, j) => CORRELATION[Math.max(i, j)][Math.min(i, j)] * a.deviation * b.deviation),
  );
  const breadth = ESTIMATED_FIELDS.indexOf("breadth");
  const crown = ESTIMATED_FIELDS.indexOf("crownHeight");
  const arcWith = covariance.map((row) => ARC.perBreadth * row[breadth] + ARC.perCrownHeight * row[crown]);
  const own = ARC.perBreadth * arcWith[breadth] + ARC.perCrownHeight * arcWith[crown] + ARC.deviation ** 2;
  mean.push(ARC.constant + ARC.perBreadth * mean[breadth] + ARC.perCrownHeight * mean[crown]);
  covariance.forEach((row, i) => {
    row.push(arcWith[i]);
  });
  covariance.push([...arcWith, own]);
  return { mean, covariance };
};

const { mean, covariance } = buildModel();

/** Solves the symmetric positive definite system a·x = b for each column of b by Cholesky's method. */
const solve = (a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] => {
  const n = a.length;
  const l = a.map((row) => row.slice());
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = a[i][j];
      for (let k = 0; k < j; k++) sum -= l[i][k] * l[j][k];
      l[i][j] = i === j ? Math.sqrt(sum) : sum / l[j][j];
    }
  }
  return b.map((column) => {
    const y = column.slice();
    for (let i = 0; i < n; i++) {
      for (let k = 0; k < i; k++) y[i] -= l[i][k] * y[k];
      y[i] /= l[i][i];
    }
    for (let i = n - 1; i >= 0; i--) {
      for (let k = i + 1; k < n; k++) y[i] -= l[k][i] * y[k];
      y[i] /= l[i][i];
    }
    return y;
  });
};

/** An expected value with its standard error, mm. */
export interface Expectation {
  readonly value: number;
  readonly standardError: number;
}

/**
 * What the known measures foretell of another: mean and standard deviation of the multivariate normal
 * distribution given the known ones (Anderson 2003, *An Introduction to Multivariate Statistical Analysis*,
 * section 2.5), which is the regression on them. `field` must not be among the known.
 */
export const expectation = (field: MeasureField, known: ReadonlyMap<MeasureField, number>): Expectation => {
  const target = ESTIMATED_FIELDS.indexOf(field);
  const given = ESTIMATED_FIELDS.map((_, i) => i).filter((i) => known.has(ESTIMATED_FIELDS[i]));
  const column = given.map((i) => covariance[i][target]);
  const matrix = given.map((i) => given.map((j) => covariance[i][j]));
  const [weights] = solve(matrix, [column]);
  let value = mean[target];
  let variance = covariance[target][target];
  given.forEach((i, k) => {
    value += weights[k] * ((known.get(ESTIMATED_FIELDS[i]) as number) - mean[i]);
    variance -= weights[k] * column[k];
  });
  return { value, standardError: Math.sqrt(Math.max(0, variance)) };
};

/** Index of the arc, which is modelled and not surveyed. */
export const ARC_FIELD = ESTIMATED_FIELDS[ARC_INDEX];
