import type { HeadDirection } from "./coordinates";

/** Parts of the head by name. `hair` is all that bears hair. They overlap as the words do. */
export const REGIONS = [
  "crown",
  "brow",
  "leftTemple",
  "rightTemple",
  "temples",
  "leftSide",
  "rightSide",
  "sides",
  "back",
  "nape",
  "hair",
  "face",
  "leftEar",
  "rightEar",
  "ears",
] as const;
export type Region = (typeof REGIONS)[number];

/** Elevation of the hairline by azimuth, degrees, front to nape: forehead, temple, before and over the ear, nape. */
const HAIRLINE: readonly (readonly [number, number])[] = [
  [0, 29],
  [20, 28.5],
  [36, 25],
  [48, 17],
  [58, 8],
  [68, -2],
  [78, -10],
  [90, -11.5],
  [104, -12],
  [116, -17],
  [128, -29],
  [142, -42],
  [158, -50],
  [180, -53],
];

/** Half the width over which the hair thins out at the hairline, degrees. */
const FADE = 8;

/** The smooth curve through the table, degrees. */
const splineElevation = (azimuth: number): number => {
  const a = Math.abs(azimuth - 360 * Math.round(azimuth / 360));
  let i = 0;
  while (i < HAIRLINE.length - 2 && a > HAIRLINE[i + 1][0]) i++;
  const at = (k: number): readonly [number, number] => {
    if (k < 0) return [-HAIRLINE[-k][0], HAIRLINE[-k][1]];
    const n = HAIRLINE.length;
    if (k < n) return HAIRLINE[k];
    return [360 - HAIRLINE[2 * n - 2 - k][0], HAIRLINE[2 * n - 2 - k][1]];
  };
  const [a0, e0] = at(i - 1);
  const [a1, e1] = at(i);
  const [a2, e2] = at(i + 1);
  const [a3, e3] = at(i + 2);
  const h = a2 - a1;
  const t = (a - a1) / h;
  const m1 = ((e2 - e0) / (a2 - a0)) * h;
  const m2 = ((e3 - e1) / (a3 - a1)) * h;
  const t2 = t * t;
  const t3 = t2 * t;
  return (2 * t3 - 3 * t2 + 1) * e1 + (t3 - 2 * t2 + t) * m1 + (3 * t2 - 2 * t3) * e2 + (t3 - t2) * m2;
};

/** The curve at every degree from front to nape, for speed. */
const HAIRLINE_BY_DEGREE = Float64Array.from({ length: 182 }, (_, a) => splineElevation(Math.min(180, a)));

/** Elevation of the hairline at an azimuth, degrees. */
export const hairlineElevation = (azimuth: number): number => {
  const a = Math.abs(azimuth - 360 * Math.round(azimuth / 360));
  const i = Math.floor(a);
  return HAIRLINE_BY_DEGREE[i] + (a - i) * (HAIRLINE_BY_DEGREE[i + 1] - HAIRLINE_BY_DEGREE[i]);
};

/** How much of the hair's thickness stands at a place: 1 in the hair, 0 on the face, ears and neck; smooth. */
export const hairShare = (azimuth: number, elevation: number): number => {
  const t = Math.min(1, Math.max(0, (elevation - hairlineElevation(azimuth)) / (2 * FADE)));
  return t * t * t * (t * (6 * t - 15) + 10);
};

/** Whether a place lies in a region. */
export const inRegion = (region: Region, place: HeadDirection): boolean => {
  const a = place.azimuth - 360 * Math.round(place.azimuth / 360);
  const side = Math.abs(a);
  const e = place.elevation;
  const right = a > 0;
  switch (region) {
    case "crown":
      return e >= 60;
    case "brow":
      return side <= 42 && e >= -8 && e < 30;
    case "temples":
      return side > 42 && side <= 75 && e >= -12 && e < 22;
    case "leftTemple":
      return !right && inRegion("temples", place);
    case "rightTemple":
      return right && inRegion("temples", place);
    case "sides":
      return side > 60 && side <= 125 && e >= -10 && e < 60;
    case "leftSide":
      return !right && inRegion("sides", place);
    case "rightSide":
      return right && inRegion("sides", place);
    case "back":
      return side > 125 && e >= -20 && e < 60;
    case "nape":
      return side > 125 && e < -20 && e >= -62;
    case "hair":
      return e >= hairlineElevation(a);
    case "face":
      return side < 78 && e < hairlineElevation(a) && e >= -58;
    case "ears":
      return side >= 84 && side <= 126 && e < -13 && e > -46;
    case "leftEar":
      return !right && inRegion("ears", place);
    case "rightEar":
      return right && inRegion("ears", place);
  }
};
