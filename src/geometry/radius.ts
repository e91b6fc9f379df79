import { lastAtOrBelow } from "./curve";
import { refusal } from "./refusal";
import type { RadiusData } from "./tubeShape";

/** Radius along a path, by share of its length. */
export interface RadiusProfile {
  /** Radius at a share, mm. Constant beyond the first and the last knot. */
  at(share: number): number;
  /** Change of the radius per share, mm. */
  slopeAt(share: number): number;
  readonly shares: readonly number[];
}

/**
 * The radius as a function: monotone between knots by a cubic that never overshoots (Fritsch, Carlson 1980, "Monotone
 * piecewise cubic interpolation", SIAM J. Numer. Anal. 17(2)), exactly linear through knots on a line.
 * Throws a MessageError for radii below 0, all 0 or 0 between the ends, and for shares that do not ascend.
 */
export function radiusProfile(data: RadiusData): RadiusProfile {
  const { shares, radii } = data;
  check(data);
  const n = radii.length;
  if (n === 1) return { at: () => radii[0], slopeAt: () => 0, shares };
  const slopes = monotoneSlopes(shares, radii);

  const at = (share: number): number => {
    if (share <= shares[0]) return radii[0];
    if (share >= shares[n - 1]) return radii[n - 1];
    const i = Math.min(n - 2, lastAtOrBelow(shares, share));
    const h = shares[i + 1] - shares[i];
    const x = (share - shares[i]) / h;
    const rise = radii[i + 1] - radii[i];
    const [m0, m1] = [slopes[i] * h - rise, slopes[i + 1] * h - rise];
    return radii[i] + x * rise + x * (1 - x) * (m0 * (1 - x) - m1 * x);
  };
  const slopeAt = (share: number): number => {
    if (share < shares[0] || share > shares[n - 1]) return 0;
    const i = Math.min(n - 2, lastAtOrBelow(shares, share));
    const h = shares[i + 1] - shares[i];
    const x = (share - shares[i]) / h;
    const rise = radii[i + 1] - radii[i];
    const [m0, m1] = [slopes[i] * h - rise, slopes[i + 1] * h - rise];
    return (rise + m0 * (1 - x) * (1 - 3 * x) - m1 * x * (2 - 3 * x)) / h;
  };
  return { at, slopeAt, shares };
}

/** Slopes at the knots that keep the cubic between them monotone (Fritsch-Carlson), linear data kept linear. */
export function monotoneSlopes(x: ArrayLike<number>, y: ArrayLike<number>): Float64Array {
  const n = x.length;
  const slopes = new Float64Array(n);
  const chord = (i: number) => (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
  slopes[0] = chord(0);
  slopes[n - 1] = chord(n - 2);
  for (let i = 1; i < n - 1; i++) {
    const [before, after] = [chord(i - 1), chord(i)];
    const [h0, h1] = [x[i] - x[i - 1], x[i + 1] - x[i]];
    slopes[i] = before * after <= 0 ? 0 : (before * h1 + after * h0) / (h0 + h1);
  }
  for (let i = 0; i < n - 1; i++) {
    const c = chord(i);
    if (c === 0) {
      slopes[i] = 0;
      slopes[i + 1] = 0;
      continue;
    }
    const a = slopes[i] / c;
    const b = slopes[i + 1] / c;
    const sum = a * a + b * b;
    if (sum > 9) {
      const shrink = 3 / Math.sqrt(sum);
      slopes[i] = shrink * a * c;
      slopes[i + 1] = shrink * b * c;
    }
  }
  return slopes;
}

function check({ shares, radii }: RadiusData): void {
  if (radii.length === 0 || shares.length !== radii.length) {
    throw refusal(
      "radius-list-uneven",
      `the radius has ${radii.length} values at ${shares.length} shares`,
      "give one share for each radius, and at least one",
    );
  }
  radii.forEach((radius, i) => {
    const atEnd = (i === 0 || i === radii.length - 1) && radii.length > 1;
    if (!Number.isFinite(radius) || radius < 0 || (radius === 0 && !atEnd)) {
      throw refusal(
        "radius-not-positive",
        `a radius of the tube is ${radius} mm`,
        "give a radius above 0 mm",
      );
    }
  });
  if (radii.every((radius) => radius === 0)) {
    throw refusal("radius-not-positive", "every radius of the tube is 0 mm", "give a radius above 0 mm");
  }
  shares.forEach((share, i) => {
    if (!Number.isFinite(share) || share < 0 || share > 1 || (i > 0 && share <= shares[i - 1])) {
      throw refusal(
        "radius-shares-not-ascending",
        `the shares of the radius are ${shares.join(", ")}`,
        "give shares that ascend from 0 to 1",
      );
    }
  });
}
