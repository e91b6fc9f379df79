import type { TriangleMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
import { PassageBorder } from "./passageBorder";
import { type Foot, mostRoom, PassageClearance } from "./passageClearance";
import { type PassageMap, passageMap, seenSurface, throughAxis } from "./passageMap";
import { alongMotion, type Motion, placeAlong } from "./passageMotion";

/** How a piece gets past a head on one way. */
export interface Passage {
  /** Room across the way at its tightest, mm, at most `mostRoom`; negative: how much it is too small. */
  readonly clearance: number;
  /** The piece's sample that is nearest to the head's shadow, or deepest in it; −1 when none is within `mostRoom`. */
  readonly sample: number;
  /** Where on the head the border of its shadow lies there, mm. */
  readonly met: Vec3 | undefined;
  /** Parts that do not get past, the worst first, with what each lacks, mm. */
  readonly stopped: readonly { readonly part: number; readonly lacking: number }[];
}

/** Side of a cell of the map that finds the tightest places, mm; they are then settled on the head's triangles. */
const fineCell = 0.75;
/** What the chords of two meshes may take from an exact fit, mm. */
const chords = 0.1;
/** At most so many places are settled. */
const mostSettled = 160;

/**
 * Judges a motion to within a few hundredths of a mm of the meshes.
 *
 * A point that moves along a way meets the head exactly if the head has a point ahead of it on its line. What lacks is
 * the distance across the way to the nearest line on which nothing is ahead; the greatest over the piece is how much
 * the passage is too small. For a cap on a sphere of radius R to the polar angle θ > 90° it is R(1 − sin θ).
 * @param positions samples of the piece, x, y, z in turn, mm
 * @param partOf part of a sample, or below zero
 * @param leftOut where not zero, a sample that is taken to be cut away
 */
export function judgePassage(
  positions: Float32Array,
  partOf: (sample: number) => number,
  head: TriangleMesh,
  motion: Motion,
  leftOut?: Uint8Array,
): Passage {
  const { map, border } = shadowOf(head, motion);
  const clearance = new PassageClearance(map);
  const points = alongMotion(positions, motion, new Float32Array(positions.length));
  const slack = 0.75 * fineCell;
  const worst = new Map<number, number>();
  const tight: { sample: number; own: number; u: number; v: number }[] = [];
  let least = mostRoom;
  for (let i = 0; i < points.length; i += 3) {
    const sample = i / 3;
    if (leftOut && leftOut[sample] !== 0) continue;
    const [u, v, w] = [points[i], points[i + 1], points[i + 2]];
    let most = Math.min(mostRoom, least + slack);
    let part = -1;
    let ofPart = 0;
    if (clearance.isStopped(u, v, w)) {
      part = partOf(sample);
      ofPart = worst.get(part) ?? 0;
      most = Math.max(most, ofPart);
    }
    const own = clearance.at(u, v, w, most);
    if (own >= most) continue;
    if (own < ofPart) worst.set(part, own);
    if (own >= least + slack) continue;
    tight.push({ sample, own, ...clearance.foot });
    if (own < least) least = own;
  }
  let settled = mostRoom;
  let tightest = -1;
  let met: Vec3 | undefined;
  for (const { sample, own: mapped, u, v } of thinned(tight.filter(({ own }) => own < least + slack))) {
    // What the map finds so much roomier than what is settled is not the tightest.
    if (mapped >= settled + slack) continue;
    const i = 3 * sample;
    const foot = { u, v };
    const own = border.settle(points[i], points[i + 1], points[i + 2], foot, fineCell, settled);
    if (own >= settled) continue;
    settled = own;
    tightest = sample;
    met = metAt(border, motion, points[i], points[i + 1], foot, own < 0 ? -1 : 1);
  }
  if (settled < 0 && settled > -chords) settled = 0;
  const stopped: { part: number; lacking: number }[] = [];
  if (settled < 0) {
    const own = partOf(tightest);
    for (const [part, lacking] of worst) {
      if (part !== own && lacking < -slack) stopped.push({ part, lacking: Math.min(-lacking, -settled) });
    }
    stopped.sort((a, b) => b.lacking - a.lacking || a.part - b.part);
    stopped.unshift({ part: own, lacking: -settled });
  }
  return { clearance: settled, sample: tightest, met, stopped };
}

/** What a motion sees of a head: a map to find places, and the triangles to settle them on. */
interface Shadow {
  readonly map: PassageMap;
  readonly border: PassageBorder;
}

/** Shadows straight up: every piece on one head asks for the same one first. */
const upright = new WeakMap<TriangleMesh, Shadow>();

function shadowOf(head: TriangleMesh, motion: Motion): Shadow {
  const isUpright = motion.kind === "slide" && motion.direction[2] === 1;
  const known = isUpright ? upright.get(head) : undefined;
  if (known) return known;
  const surface = seenSurface(head, motion);
  const shadow = { map: passageMap(surface, fineCell), border: new PassageBorder(surface) };
  if (isUpright) upright.set(head, shadow);
  return shadow;
}

/** The head's surface just within the border: from a stopped point short of the foot, from a free one beyond it. */
function metAt(
  border: PassageBorder,
  motion: Motion,
  u: number,
  v: number,
  foot: Foot,
  way: number,
): Vec3 | undefined {
  const away = Math.hypot(foot.u - u, foot.v - v);
  for (const within of [0.1, 0.4, 1]) {
    const share = away > 0 ? 1 + (way * within) / away : 1;
    const w = border.highest(u + (foot.u - u) * share, v + (foot.v - v) * share);
    if (w !== undefined && w < throughAxis) return placeAlong(motion, foot.u, foot.v, w);
  }
  return undefined;
}

/** The tightest, and of the others some from all over. */
function thinned<T extends { readonly own: number }>(places: readonly T[]): T[] {
  const sorted = places.toSorted((a, b) => a.own - b.own);
  if (sorted.length <= mostSettled) return sorted;
  const half = mostSettled / 2;
  const step = (sorted.length - half) / half;
  return [
    ...sorted.slice(0, half),
    ...Array.from({ length: half }, (_, k) => sorted[half + Math.floor(k * step)]),
  ];
}
