import type { WornHead } from "../wornHead";
import { judgePassage } from "./passageJudge";
import { alongMotion, type Motion } from "./passageMotion";
import type { SearchPoints } from "./passagePoints";
import { slideClearance, slideGrid } from "./passageSlides";

/** A few parts that alone keep a piece off the head. */
export interface FewParts {
  /** Indices of parts, the worst first, with what each lacks on that way, mm. */
  readonly parts: readonly { readonly part: number; readonly lacking: number }[];
  readonly motion: Motion;
}

/** No more parts than this are named as those to move. */
const mostParts = 3;
/** So many ways are tried out. */
const mostTried = 4;

/** A way on which few parts are stopped. */
interface WayOfFew {
  readonly motion: Motion;
  readonly parts: ReadonlySet<number>;
  /** What they lack, mm. */
  readonly lacking: number;
}

/**
 * At most three parts, and not all, without which the rest of a piece gets over the bare head, tried out on all of its
 * samples: those that need be moved least.
 * @param positions samples of the piece on the bare head, x, y, z in turn, mm
 * @param partCount how many parts the piece has
 * @param judged what is known of ways: the parts that are stopped, with what each lacks, mm
 * @param tight what may lack, mm
 */
export function fewParts(
  positions: Float32Array,
  points: SearchPoints,
  partOf: (sample: number) => number,
  partCount: number,
  head: WornHead,
  judged: readonly { readonly motion: Motion; readonly stopped: FewParts["parts"] }[],
  tight: number,
): FewParts | undefined {
  const most = Math.min(mostParts, partCount - 1);
  const { mesh } = head.bare;
  const known = judged.flatMap(({ motion, stopped }): WayOfFew[] => {
    const parts = new Set(stopped.filter(({ lacking }) => lacking > tight).map(({ part }) => part));
    return parts.size > 0 && parts.size <= most ? [{ motion, parts, lacking: stopped[0].lacking }] : [];
  });
  const ways = [...known, ...waysOfFew(points, partOf, head, most)].sort((a, b) => a.lacking - b.lacking);
  for (const { motion, parts } of ways.slice(0, mostTried)) {
    // What no part made cannot be moved.
    if (parts.has(-1)) continue;
    const leftOut = Uint8Array.from({ length: positions.length / 3 }, (_, i) => Number(parts.has(partOf(i))));
    const rest = judgePassage(positions, () => -1, mesh, motion, leftOut);
    if (rest.clearance < -tight) continue;
    const named = judgePassage(positions, partOf, mesh, motion).stopped.filter(({ part }) => parts.has(part));
    if (named.length > 0) return { parts: named, motion };
  }
  return undefined;
}

/** Slides on which few parts are stopped, as far as coarse maps show. */
function waysOfFew(
  { bare: points, samples }: SearchPoints,
  partOf: (sample: number) => number,
  head: WornHead,
  most: number,
): WayOfFew[] {
  const found: WayOfFew[] = [];
  const seen = new Float32Array(points.length);
  for (const { tilt, azimuth, motion } of slideGrid) {
    const clearance = slideClearance(head.bare, tilt, azimuth);
    alongMotion(points, motion, seen);
    const parts = new Set<number>();
    const stopped: number[] = [];
    for (let k = 0; k < samples.length && parts.size <= most; k++) {
      if (!clearance.isDeep(seen[3 * k], seen[3 * k + 1], seen[3 * k + 2])) continue;
      parts.add(partOf(samples[k]));
      stopped.push(3 * k);
    }
    if (parts.size === 0 || parts.size > most) continue;
    let least = 0;
    for (const i of stopped) least = Math.min(least, clearance.at(seen[i], seen[i + 1], seen[i + 2], least));
    found.push({ motion, parts, lacking: -least });
  }
  return found;
}
