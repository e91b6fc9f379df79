import type { SignedDistance } from "../../geometry/signedDistance";
import { PassageClearance } from "./passageClearance";
import { passageMap, seenSurface } from "./passageMap";
import { type Slide, slideTowards } from "./passageMotion";

/** Side of a cell of the maps that a search asks, mm. */
export const coarseCell = 2;

/** A slide of the search, and where it stands among the others. */
export interface GridSlide {
  readonly tilt: number;
  readonly azimuth: number;
  readonly motion: Slide;
}

/** Slides off that are tried: straight up, then tilted every 15° up to 15° below level, to eight sides. */
export const slideGrid: readonly GridSlide[] = [
  { tilt: 0, azimuth: 0, motion: slideTowards(0, 0) },
  ...[15, 30, 45, 60, 75, 90, 105].flatMap((tilt) =>
    [0, 180, 45, -45, 90, -90, 135, -135].map((azimuth) => ({
      tilt,
      azimuth,
      motion: slideTowards(tilt, azimuth),
    })),
  ),
];

/** Maps of a head stay with it: a head is worn by one piece after another. */
const known = new WeakMap<SignedDistance, Map<string, PassageClearance>>();

/** What a head leaves free for a slide of the grid, on a coarse map. */
export function slideClearance(head: SignedDistance, tilt: number, azimuth: number): PassageClearance {
  let ofHead = known.get(head);
  if (!ofHead) {
    ofHead = new Map();
    known.set(head, ofHead);
  }
  const key = `${tilt} ${azimuth}`;
  let clearance = ofHead.get(key);
  if (!clearance) {
    clearance = new PassageClearance(
      passageMap(seenSurface(head.mesh, slideTowards(tilt, azimuth)), coarseCell),
    );
    ofHead.set(key, clearance);
  }
  return clearance;
}
