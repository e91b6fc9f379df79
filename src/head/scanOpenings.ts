import type { TriangleTree } from "../geometry/triangleTree";
import type { Vec3 } from "../geometry/vector";
import type { HeadForm } from "./headForm";
import type { ScanMeasures } from "./scanMeasuring";

/** Directions that are looked in round the head, a degree apart. */
const around = 360;
/** Levels at which the girth may be read, mm off where it usually lies. */
const levels = [0, -5, 5, -10, 10];
/** Shares of the head's half extent between which there must be skin. */
const skin: readonly [number, number] = [0.7, 1.6];
/** The crown is looked for from here up, degrees. */
const crownFrom = 78;
const crownOpen = 0.3;

/** Where a scan lacks what is to be measured. */
export interface ScanOpenings {
  /** The widest gap at the level of the girth, degrees as seen from the head's middle. */
  readonly gap: number;
  /** Azimuth of the middle of that gap, degrees, clockwise from the front. */
  readonly towards: number;
  /** By how much a tape pulled straight over the gap reads too little, mm. */
  readonly girthError: number;
  /** Whether the crown is open, so that its height cannot be read. */
  readonly isCrownOpen: boolean;
}

/**
 * Looks for what a scan in the head frame lacks where it is measured.
 * @param form that the scan was fitted to: it tells where the girth is looked for
 * @param size the scan against the form
 */
export function scanOpenings(
  tree: TriangleTree,
  form: HeadForm,
  size: number,
  { girth }: Pick<ScanMeasures, "girth">,
): ScanOpenings {
  const { length, breadth, crownHeight } = form.measurements;
  const [x, y, z] = form.center.map((value) => size * value);
  let widest = { gap: Infinity, towards: 0 };
  for (const off of levels) {
    const found = gapAt(tree, [x, y, z + size * off], (size * length) / 2, (size * breadth) / 2);
    if (found.gap < widest.gap) widest = found;
  }
  const angle = (widest.gap * Math.PI) / 180;
  // A chord in place of its arc, on a circle of the girth.
  const missed = (girth / (2 * Math.PI)) * (angle - 2 * Math.sin(Math.min(Math.PI, angle) / 2));
  const isCrownOpen = shareOpen(tree, [x, y, z], size * crownHeight - z) > crownOpen;
  return { ...widest, girthError: missed, isCrownOpen };
}

function gapAt(
  tree: TriangleTree,
  [x, y, z]: Vec3,
  halfLength: number,
  halfBreadth: number,
): { gap: number; towards: number } {
  const isOpen = Array.from({ length: around }, (_, i) => {
    const angle = (2 * Math.PI * i) / around;
    const [s, c] = [Math.sin(angle), Math.cos(angle)];
    const radius = 1 / Math.hypot(s / halfBreadth, c / halfLength);
    return !tree.meets(x, y, z, s, c, 0, skin[1] * radius, skin[0] * radius);
  });
  let best = { gap: 0, towards: 0 };
  let run = 0;
  // Twice round, for a gap over the front.
  for (let i = 0; i < 2 * around; i++) {
    run = isOpen[i % around] ? run + 1 : 0;
    if (run > around) break;
    if (run > best.gap) best = { gap: run, towards: (i - (run - 1) / 2) % around };
  }
  return best;
}

/** Share of the directions about the upright in which nothing closes the head. */
function shareOpen(tree: TriangleTree, [x, y, z]: Vec3, depth: number): number {
  let [open, all] = [0, 0];
  for (let elevation = crownFrom; elevation < 90; elevation += 4) {
    const [ce, se] = [Math.cos((elevation * Math.PI) / 180), Math.sin((elevation * Math.PI) / 180)];
    for (let azimuth = 0; azimuth < 360; azimuth += 30) {
      const angle = (azimuth * Math.PI) / 180;
      all++;
      const [dx, dy] = [ce * Math.sin(angle), ce * Math.cos(angle)];
      if (!tree.meets(x, y, z, dx, dy, se, skin[1] * depth, skin[0] * depth)) open++;
    }
  }
  return open / all;
}
