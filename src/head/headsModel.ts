import { ARC } from "./estimate";
import { errorOf, type KnownHead } from "./knownHead";
import type { MeasureField, Measurements } from "./measurements";
import { LEAST_ADULT_GIRTH } from "./population";
import { seededNormals } from "./seededNormals";
import { DRAWN_FIELDS, type DrawnField, type SurveyedHeads, surveyedHeads } from "./surveyedHeads";

/** Heads that were drawn: each has those of {@link DRAWN_FIELDS} in turn, mm. */
export interface DrawnHeads {
  readonly count: number;
  readonly values: Float64Array;
}

/** One normal distribution of head measures. */
interface Normal {
  /** Share of the heads that are of it. */
  readonly share: number;
  readonly mean: Float64Array;
  /** Row by row. */
  readonly covariance: Float64Array;
}

/** A measure, or a sum of them, as it was taken: `weights`·x = value, give or take the variance. */
interface Taken {
  readonly weights: Float64Array;
  readonly constant: number;
  readonly value: number;
  readonly variance: number;
}

const size = DRAWN_FIELDS.length;
/** A variance below this is none, mm². */
const noVariance = 1e-9;

/** How the measures of heads spread and go together: a normal distribution for each sex, mixed as they were surveyed. */
export class HeadsModel {
  readonly #normals: readonly Normal[];

  constructor(normals: readonly Normal[]) {
    this.#normals = normals;
  }

  /**
   * Draws heads as they may be, given what was measured: exact measures stay as they are, those with a standard error
   * are drawn about, those that were not taken go with the others as in the survey. Where the girth is below the
   * survey's adults, the head is taken as a scaled-down adult's, as in `completeMeasurements`.
   *
   * Each sex's distribution is conditioned on the measures (Anderson 2003, *An Introduction to Multivariate Statistical
   * Analysis*, section 2.5), and the sexes are weighed by how well each explains them (Bayes' rule).
   * @param count how many heads
   * @param seed the same seed, the same heads
   */
  draw(known: KnownHead, count: number, seed: number): DrawnHeads {
    const scale = Math.min(1, known.measurements.girth / LEAST_ADULT_GIRTH);
    const taken = takenOf(known, scale);
    const posteriors = this.#normals.map((normal) => conditioned(normal, taken));
    const most = posteriors.reduce((least, { logWeight }) => Math.max(least, logWeight), -Infinity);
    const weights = posteriors.map(({ logWeight }) => Math.exp(logWeight - most));
    const whole = weights.reduce((sum, weight) => sum + weight, 0);
    const normal = seededNormals(seed);
    const values = new Float64Array(count * size);
    const spread = new Float64Array(size);
    let drawn = 0;
    let share = 0;
    posteriors.forEach(({ mean, root }, k) => {
      share += weights[k] / whole;
      const until = k === posteriors.length - 1 ? count : Math.round(share * count);
      for (; drawn < until; drawn++) {
        for (let i = 0; i < size; i++) spread[i] = normal();
        for (let i = 0; i < size; i++) {
          let value = mean[i];
          for (let j = 0; j <= i; j++) value += root[i * size + j] * spread[j];
          values[drawn * size + i] = value * scale;
        }
      }
    });
    return { count, values };
  }
}

/** The model of the heads of the survey. */
export function surveyModel(): HeadsModel {
  model ??= fitHeads(surveyedHeads());
  return model;
}
let model: HeadsModel | undefined;

/** Fits the model to heads: means and covariances of the men's and of the women's. */
export function fitHeads(heads: SurveyedHeads): HeadsModel {
  const normals = [0, 1].flatMap((sex): Normal[] => {
    const members = Array.from({ length: heads.count }, (_, i) => i).filter((i) => heads.isWoman[i] === sex);
    if (members.length <= size) return [];
    const mean = new Float64Array(size);
    for (const head of members) for (let i = 0; i < size; i++) mean[i] += heads.values[head * size + i];
    for (let i = 0; i < size; i++) mean[i] /= members.length;
    const covariance = new Float64Array(size * size);
    for (const head of members) {
      for (let i = 0; i < size; i++) {
        const own = heads.values[head * size + i] - mean[i];
        for (let j = 0; j < size; j++) {
          covariance[i * size + j] += own * (heads.values[head * size + j] - mean[j]);
        }
      }
    }
    for (let k = 0; k < covariance.length; k++) covariance[k] /= members.length - 1;
    return [{ share: members.length / heads.count, mean, covariance }];
  });
  return new HeadsModel(normals);
}

/** What was measured, in an adult's size. */
function takenOf(known: KnownHead, scale: number): Taken[] {
  const taken = DRAWN_FIELDS.flatMap((field, i): Taken[] => {
    const value = known.measurements[field];
    const error = errorOf(known, field);
    if (value === undefined || error === undefined) return [];
    const weights = new Float64Array(size);
    weights[i] = 1;
    return [{ weights, constant: 0, value: value / scale, variance: (error / scale) ** 2 }];
  });
  const arc = known.measurements.bitragionArc;
  const error = errorOf(known, "bitragionArc");
  if (arc !== undefined && error !== undefined) {
    const weights = new Float64Array(size);
    weights[DRAWN_FIELDS.indexOf("breadth")] = ARC.perBreadth;
    weights[DRAWN_FIELDS.indexOf("crownHeight")] = ARC.perCrownHeight;
    const variance = ARC.deviation ** 2 + (error / scale) ** 2;
    taken.push({ weights, constant: ARC.constant, value: arc / scale, variance });
  }
  return taken;
}

/** A normal distribution given measures, taken in one after the other. */
function conditioned(normal: Normal, taken: readonly Taken[]) {
  const mean = normal.mean.slice();
  const covariance = normal.covariance.slice();
  const along = new Float64Array(size);
  let logWeight = Math.log(normal.share);
  for (const { weights, constant, value, variance } of taken) {
    let whole = variance;
    let miss = value - constant;
    for (let i = 0; i < size; i++) {
      along[i] = 0;
      for (let j = 0; j < size; j++) along[i] += covariance[i * size + j] * weights[j];
    }
    for (let i = 0; i < size; i++) {
      whole += weights[i] * along[i];
      miss -= weights[i] * mean[i];
    }
    if (!(whole > noVariance)) continue;
    logWeight -= 0.5 * (Math.log(whole) + (miss * miss) / whole);
    for (let i = 0; i < size; i++) {
      mean[i] += (along[i] * miss) / whole;
      for (let j = 0; j < size; j++) covariance[i * size + j] -= (along[i] * along[j]) / whole;
    }
  }
  return { mean, root: rootOf(covariance), logWeight };
}

/** Lower triangular root of a covariance (Cholesky); what has no variance left has none in it. */
function rootOf(covariance: Float64Array): Float64Array {
  const root = new Float64Array(size * size);
  for (let i = 0; i < size; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = covariance[i * size + j];
      for (let k = 0; k < j; k++) sum -= root[i * size + k] * root[j * size + k];
      if (i === j) root[i * size + i] = sum > noVariance ? Math.sqrt(sum) : 0;
      else root[i * size + j] = root[j * size + j] > 0 ? sum / root[j * size + j] : 0;
    }
  }
  return root;
}

/** A drawn head's measures; what is not drawn is as it is known. */
export function drawnMeasurements({ values }: DrawnHeads, head: number, known: Measurements): Measurements {
  const drawn: Partial<Record<MeasureField, number>> = {};
  DRAWN_FIELDS.forEach((field: DrawnField, i) => {
    drawn[field] = values[head * size + i];
  });
  return { ...known, ...drawn };
}
