import type { PassageClearance } from "./passageClearance";
import { judgePassage } from "./passageJudge";
import { alongMotion, type Motion } from "./passageMotion";
import type { SearchPoints } from "./passagePoints";
import { coarseError, slideClearance, slideGrid } from "./passageSlides";
import type { WornHead } from "./wornHead";

/** A few parts that alone keep a piece off the head. */
export interface FewParts {
  /** Indices of parts, the worst first, with what each lacks on that way, mm. */
  readonly parts: readonly { readonly part: number; readonly lacking: number }[];
  readonly motion: Motion;
}

/** No more parts than this are named as those to move. */
const mostParts = 3;
/** So many ways are tried out. */
const mostTried = 3;

/**
 * The fewest parts without which the rest of a piece gets over the bare head, tried out on all of its samples;
 * undefined where they would be more than three, or all of the piece.
 * @param positions samples of the piece on the bare head, x, y, z in turn, mm
 * @param partCount how many parts the piece has
 * @param lacking what may lack, mm
 */
export function fewParts(
  positions: Float32Array,
  points: SearchPoints,
  partOf: (sample: number) => number,
  partCount: number,
  head: WornHead,
  lacking: number,
): FewParts | undefined {
  const most = Math.min(mostParts, partCount - 1);
  const { mesh } = head.bare;
  for (const { motion, parts } of waysOfFew(points, partOf, head, most).slice(0, mostTried)) {
    const { stopped } = judgePassage(positions, partOf, mesh, motion);
    const named = stopped.filter(({ part }) => parts.has(part));
    if (named.length === 0) continue;
    const leftOut = Uint8Array.from({ length: positions.length / 3 }, (_, i) =>
      parts.has(partOf(i)) ? 1 : 0,
    );
    const rest = judgePassage(positions, () => -1, mesh, motion, leftOut);
    if (rest.clearance >= -lacking) return { parts: named, motion };
  }
  return undefined;
}

/** Slides on which few parts are stopped, as far as coarse maps show: the fewest first, then what lacks least. */
function waysOfFew(
  { bare: points, samples }: SearchPoints,
  partOf: (sample: number) => number,
  head: WornHead,
  most: number,
): { motion: Motion; parts: Set<number> }[] {
  const found: { motion: Motion; parts: Set<number>; least: number }[] = [];
  const seen = new Float32Array(points.length);
  for (const { tilt, azimuth, motion } of slideGrid) {
    const clearance: PassageClearance = slideClearance(head.bare, tilt, azimuth);
    alongMotion(points, motion, seen);
    const parts = new Set<number>();
    let least = -coarseError;
    for (let k = 0; k < samples.length && parts.size <= most; k++) {
      const own = clearance.at(seen[3 * k], seen[3 * k + 1], seen[3 * k + 2], -coarseError);
      if (own >= -coarseError) continue;
      const part = partOf(samples[k]);
      // What no part made cannot be moved.
      if (part < 0) parts.clear();
      if (part < 0) break;
      parts.add(part);
      if (own < least) least = own;
    }
    if (parts.size > 0 && parts.size <= most) found.push({ motion, parts, least });
  }
  return found.sort((a, b) => a.parts.size - b.parts.size || b.least - a.least);
}
