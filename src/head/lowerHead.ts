import { earRelief, type FeatureSizes, faceRelief } from "./features";
import { BASE_HEIGHT, FIRST_NECK_ROW, LOWER_COLUMNS, LOWER_HEAD, NECK_ROW } from "./lowerHeadShape";
import type { Measurements } from "./measurements";
import { LEAST_ADULT_GIRTH } from "./population";

/** Measures of the head that the lower head's table describes, mm. */
export const AVERAGE = { girth: 570, length: 196.4, breadth: 152.2, crownHeight: 129.6, neckGirth: 375 };
/** Height of the girth on that head, mm. */
const AVERAGE_GIRTH_HEIGHT = AVERAGE.crownHeight - 88;

/** Height on the average head at which ears and nose begin, mm above the tragion. */
const FEATURE_TOP = 25;
/** Height of the chin on the average head, mm. */
const CHIN = -91;
/** Ears and nose begin at least this far below the crown, mm on adults, so that they stay clear of the girth. */
const CLEAR = 103;
/** Points of a profile between two rows of the table. */
const SPAN = 8;
/** Least narrowing of a profile's angle from row to row, so that each ray meets it once. */
const NARROWING = 0.975;

/** Size of the face and neck against the average head. */
const faceScale = (m: Measurements): number =>
  (m.length / AVERAGE.length + m.breadth / AVERAGE.breadth + m.crownHeight / AVERAGE.crownHeight) / 3;

/** Height of the flat cut through the neck, mm. */
export const neckCut = (m: Measurements): number => BASE_HEIGHT * faceScale(m);

/** Catmull-Rom through four values. */
const cubic = (a: number, b: number, c: number, d: number, t: number): number =>
  b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));

const smoothstep = (from: number, to: number, x: number): number => {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)));
  return t * t * (3 - 2 * t);
};

/** A row of the table at any azimuth from front to back, rad. */
const acrossColumns = (d: readonly number[], azimuth: number): number => {
  const u = (azimuth / Math.PI) * (LOWER_COLUMNS - 1);
  const i = Math.min(LOWER_COLUMNS - 2, Math.floor(u));
  const at = (k: number): number => d[k < 0 ? -k : k >= LOWER_COLUMNS ? 2 * LOWER_COLUMNS - 2 - k : k];
  return cubic(at(i - 1), at(i), at(i + 1), at(i + 2), u - i);
};

/** Perimeter of a row of the table, both halves, mm. */
const rowPerimeter = (d: readonly number[]): number => {
  const turn = Math.cos(Math.PI / (LOWER_COLUMNS - 1));
  let sum = 0;
  for (let i = 1; i < LOWER_COLUMNS; i++) {
    sum += Math.sqrt(d[i] ** 2 + d[i - 1] ** 2 - 2 * d[i] * d[i - 1] * turn);
  }
  return 2 * sum;
};

/** Heights on a head against those on the average head. */
interface Heights {
  actual(z: number): number;
  average(z: number): number;
}

/**
 * Heights run straight from the chin to the top of the ears, and on to the girth. On a low crown the face slides
 * down a little, to keep ears and nose clear of the girth.
 */
const featureHeights = (m: Measurements, girthHeight: number, scale: number): Heights => {
  const top = Math.min(
    (FEATURE_TOP * girthHeight) / AVERAGE_GIRTH_HEIGHT,
    FEATURE_TOP * scale,
    m.crownHeight - CLEAR * Math.min(1, m.girth / LEAST_ADULT_GIRTH),
  );
  const chin = CHIN * scale;
  const below = (FEATURE_TOP - CHIN) / (top - chin);
  const above = (AVERAGE_GIRTH_HEIGHT - FEATURE_TOP) / (girthHeight - top);
  return {
    actual: (z) => {
      if (z < CHIN) return chin + (z - CHIN) * scale;
      return z < FEATURE_TOP ? chin + (z - CHIN) / below : top + (z - FEATURE_TOP) / above;
    },
    average: (z) => {
      if (z < chin) return CHIN + (z - chin) / scale;
      return z < top ? CHIN + (z - chin) * below : FEATURE_TOP + (z - top) * above;
    },
  };
};

/** What the lower head's columns share. */
interface LowerHead {
  readonly scale: number;
  readonly neck: number;
  readonly heights: Heights;
  readonly sizes: FeatureSizes;
  readonly centerY: number;
  readonly girthHeight: number;
  readonly bottom: number;
  readonly rows: number;
}

/** One meridian's outline below the girth: distance from the axis and height over the girth plane, row by row. */
interface Profile {
  readonly d: number[];
  readonly z: number[];
}

const profileAt = (
  head: LowerHead,
  azimuth: number,
  girthRadius: number,
  girthRatio: number,
  boxRatio: number,
): Profile => {
  const { heights, girthHeight, neck } = head;
  const d = [0, girthRadius];
  const z = [0, 0];
  LOWER_HEAD.forEach((row, k) => {
    // Near the girth the head is as square as the girth is; lower down only as long and as broad.
    const square = smoothstep(-25, 35, row.z);
    const skull = square * girthRatio + (1 - square) * boxRatio;
    // The jaw goes with the skull to the chin; behind it the neck rises to the base of the skull.
    const front = k >= FIRST_NECK_ROW ? 1 : k === FIRST_NECK_ROW - 1 ? 0.4 : 0;
    const behind = smoothstep(-10, -98, row.z);
    const back = smoothstep(0.8, 1.7, azimuth);
    const part = front + back * (Math.max(front, behind) - front);
    d.push(acrossColumns(row.d, azimuth) * (part * neck + (1 - part) * skull));
    z.push(heights.actual(row.z) - girthHeight);
  });
  for (let k = 3; k < d.length; k++) d[k] = Math.min(d[k], (NARROWING * d[k - 1] * z[k]) / z[k - 1]);
  // A point above the girth, mirrored, so that the outline leaves the girth upright.
  d[0] = d[2];
  z[0] = -z[2];
  return { d, z };
};

/** Radius along a ray that meets the outline at a distance from the axis and a height, with face or ear on it. */
const relievedRadius = (
  head: LowerHead,
  azimuth: number,
  ce: number,
  se: number,
  d: number,
  z: number,
): number => {
  const { scale, sizes } = head;
  const height = head.heights.average(z + head.girthHeight);
  let r = d * ce + z * se;
  if (azimuth < 1.2) r += faceRelief((d * Math.sin(azimuth)) / scale, height, sizes) * scale;
  else if (azimuth < 2.6) {
    r += earRelief((d * Math.cos(azimuth) + head.centerY) / scale, height, sizes) * scale;
  }
  return r;
};

/** Fills one column of radii below the girth by walking down its outline. */
const fillColumn = (
  head: LowerHead,
  azimuth: number,
  { d, z }: Profile,
  put: (row: number, radius: number) => void,
): void => {
  const last = d.length - 1;
  let j = (head.rows - 1) / 2 - 1;
  const elevationOf = (row: number): number => Math.PI * (row / (head.rows - 1) - 0.5);
  let d0 = d[1];
  let z0 = 0;
  for (let k = 1; k < last; k++) {
    for (let n = 1; n <= SPAN; n++) {
      const t = n / SPAN;
      const next = Math.min(last, k + 2);
      const d1 = cubic(d[k - 1], d[k], d[k + 1], d[next], t);
      const z1 = cubic(z[k - 1], z[k], z[k + 1], z[next], t);
      for (; j >= 0; j--) {
        const se = Math.sin(elevationOf(j));
        const ce = Math.cos(elevationOf(j));
        const before = z0 * ce - d0 * se;
        const after = z1 * ce - d1 * se;
        if (after > 0) break;
        const f = before !== after ? before / (before - after) : 0;
        put(j, relievedRadius(head, azimuth, ce, se, d0 + f * (d1 - d0), z0 + f * (z1 - z0)));
      }
      d0 = d1;
      z0 = z1;
    }
  }
  // Below the table the neck goes straight on.
  for (; j >= 0; j--) put(j, d[last] / Math.cos(elevationOf(j)));
};

/**
 * Fills the radii below the girth, rows 0 to the one under the girth's. `girthRatio` is the girth section's radius
 * against the average head's by column, `boxRatio` that of the ellipses in their boxes of length and breadth.
 */
export const fillLowerHead = (
  m: Measurements,
  radii: Float64Array,
  columns: number,
  rows: number,
  center: readonly [number, number, number],
  girthRadius: Float64Array,
  girthRatio: Float64Array,
  boxRatio: Float64Array,
): void => {
  const scale = faceScale(m);
  const head: LowerHead = {
    scale,
    neck: (m.neckGirth ?? AVERAGE.neckGirth) / rowPerimeter(LOWER_HEAD[NECK_ROW].d),
    heights: featureHeights(m, center[2], scale),
    sizes: {
      earLength: (m.earLength ?? 62.6) / scale,
      earProtrusion: (m.earProtrusion ?? 22.2) / scale,
      interpupillaryDistance: (m.interpupillaryDistance ?? 63.3) / scale,
    },
    centerY: center[1],
    girthHeight: center[2],
    bottom: center[2] - neckCut(m),
    rows,
  };
  // Below the cut the neck's radius would grow without bound: limit it smoothly, which leaves the neck as it is.
  const limit = 1.7 * head.bottom;
  for (let i = 0; i < columns; i++) {
    const azimuth = (Math.PI * i) / (columns - 1);
    const profile = profileAt(head, azimuth, girthRadius[i], girthRatio[i], boxRatio[i]);
    fillColumn(head, azimuth, profile, (row, r) => {
      radii[row * columns + i] = r > 0.75 * head.bottom ? r / (1 + (r / limit) ** 10) ** 0.1 : r;
    });
  }
};
