import { degrees, type Vec3 } from "../../geometry/vector";
import type { WornHead } from "../wornHead";
import { sampleSpacing } from "../wornPiece";
import { PassageClearance } from "./passageClearance";
import { judgePassage } from "./passageJudge";
import { passageMap, seenSurface } from "./passageMap";
import { alongMotion, type Slide } from "./passageMotion";
import { headCentre, type SearchPoints } from "./passagePoints";
import { slideClearance, slideGrid } from "./passageSlides";

/** Where a piece could be opened. */
export type OpeningSide = "back" | "front" | "left" | "right";

/**
 * A cut with upright sides that lets a piece go on: what lies on its side of the head, farther from the head's middle
 * than `from`, within half of `width` of its middle, and between the two heights.
 */
export interface Opening {
  readonly side: OpeningSide;
  /** Azimuth of its middle as seen from the head's middle, degrees. */
  readonly azimuth: number;
  /** Across the side, mm. */
  readonly width: number;
  /** Middle of its width across the side, mm: x at the back and the front, y at the left and the right. */
  readonly middle: number;
  /** Where it begins, mm from the head's middle outwards. */
  readonly from: number;
  /** Heights, mm, head frame. */
  readonly zFrom: number;
  readonly zTo: number;
  /** Unit vector along which the piece then comes off. */
  readonly direction: Vec3;
}

const outwards: readonly { readonly side: OpeningSide; readonly out: Vec3; readonly across: 0 | 1 }[] = [
  { side: "back", out: [0, -1, 0], across: 0 },
  { side: "front", out: [0, 1, 0], across: 0 },
  { side: "left", out: [-1, 0, 0], across: 1 },
  { side: "right", out: [1, 0, 0], across: 1 },
];

/** A cut may begin so far on the other side of the head's middle, mm. */
const pastMiddle = 20;
/** So much more than the points in the way is cut, mm: half of what lies between two, and room for a hand's error. */
const margin = sampleSpacing / 2 + 1;
/** What lies lower than the cut and within this of it is cut too, mm: no thin strip is left below. */
const strip = 12;
/** So many openings are tried out. */
const mostTried = 4;
/** So many are looked at whether something is in the way on other sides too. */
const mostLookedAt = 20;

interface Candidate {
  readonly motion: Slide;
  readonly side: OpeningSide;
  readonly width: number;
}

/**
 * The narrowest opening that lets a piece go on over hair pressed flat, tried out on all of its samples; undefined
 * where none does.
 * @param positions samples of the piece on the head with its hair pressed, x, y, z in turn, mm
 */
export function opening(positions: Float32Array, points: SearchPoints, head: WornHead): Opening | undefined {
  let best: Opening | undefined;
  let tried = 0;
  for (const candidate of candidates(points, head).slice(0, mostLookedAt)) {
    if (tried >= mostTried || (best && candidate.width > best.width)) break;
    const found = triedOut(candidate, positions, head);
    // Coarse maps miss small lacks on other sides: that costs no try.
    if (found === "elsewhere") continue;
    tried++;
    if (found && (!best || found.width < best.width)) best = found;
  }
  return best;
}

/** Slides that would do with an opening on one side, as far as coarse maps show, the narrowest first. */
function candidates({ pressed: points }: SearchPoints, head: WornHead): Candidate[] {
  const centre = headCentre(head);
  const found: Candidate[] = [];
  const seen = new Float32Array(points.length);
  for (const { tilt, azimuth, motion } of slideGrid) {
    const clearance = slideClearance(head.pressed, tilt, azimuth);
    alongMotion(points, motion, seen);
    const spans = outwards.map(() => new Span());
    let stopped = 0;
    for (let i = 0; i < points.length; i += 3) {
      if (!clearance.isDeep(seen[i], seen[i + 1], seen[i + 2])) continue;
      stopped++;
      outwards.forEach(({ out, across }, k) => {
        spans[k].add(outOf(points, i, centre, out), points[i + across], points[i + 2]);
      });
    }
    if (stopped === 0) continue;
    outwards.forEach(({ side }, k) => {
      if (spans[k].from >= -pastMiddle) found.push({ motion, side, width: spans[k].width });
    });
  }
  return found.sort((a, b) => a.width - b.width);
}

/** The opening that a slide asks for, if with it nothing is stopped. */
function triedOut(
  { motion, side }: Candidate,
  positions: Float32Array,
  head: WornHead,
): Opening | "elsewhere" | undefined {
  const { out, across } = outwards.find((one) => one.side === side) as (typeof outwards)[number];
  const centre = headCentre(head);
  const { mesh } = head.pressed;
  const clearance = new PassageClearance(passageMap(seenSurface(mesh, motion), 1));
  const seen = alongMotion(positions, motion, new Float32Array(positions.length));
  for (const room of [0, 0.7, 1.4]) {
    const span = new Span();
    for (let i = 0; i < seen.length; i += 3) {
      if (clearance.hasRoom(seen[i], seen[i + 1], seen[i + 2], room)) continue;
      const away = outOf(positions, i, centre, out);
      if (away < -pastMiddle) return room === 0 ? "elsewhere" : undefined;
      span.add(away, positions[i + across], positions[i + 2]);
    }
    const cut = span.grown(margin);
    const leftOut = new Uint8Array(positions.length / 3);
    let lowest = cut.zFrom;
    for (let i = 0; i < positions.length; i += 3) {
      if (!cut.holds(outOf(positions, i, centre, out), positions[i + across])) continue;
      if (positions[i + 2] < lowest) lowest = positions[i + 2];
    }
    if (lowest > cut.zFrom - strip) cut.zFrom = lowest;
    for (let i = 0; i < positions.length; i += 3) {
      const z = positions[i + 2];
      if (z < cut.zFrom || z > cut.zTo) continue;
      if (cut.holds(outOf(positions, i, centre, out), positions[i + across])) leftOut[i / 3] = 1;
    }
    const { clearance: left } = judgePassage(positions, () => -1, mesh, motion, leftOut);
    if (left < 0) continue;
    const { from, zFrom, zTo, width } = cut;
    const middle = (cut.least + cut.most) / 2;
    // At the depth at which the piece is cut, about the head's own.
    const at: Vec3 =
      across === 0 ? [middle, out[1] * reach(head, 1), 0] : [out[0] * reach(head, 0), middle - centre[1], 0];
    return {
      side,
      azimuth: degrees(Math.atan2(at[0], at[1])),
      width,
      middle,
      from,
      zFrom,
      zTo,
      direction: motion.direction,
    };
  }
  return undefined;
}

const outOf = (points: Float32Array, i: number, [cx, cy]: Vec3, out: Vec3): number =>
  (points[i] - cx) * out[0] + (points[i + 1] - cy) * out[1];

/** Half the head's length or breadth, mm. */
const reach = ({ measurements }: WornHead, axis: 0 | 1): number =>
  (axis === 0 ? measurements.breadth : measurements.length) / 2;

/** How far points reach on one side of the head. */
class Span {
  from = Infinity;
  least = Infinity;
  most = -Infinity;
  zFrom = Infinity;
  zTo = -Infinity;

  get width(): number {
    return this.most - this.least;
  }

  add(out: number, across: number, z: number): void {
    if (out < this.from) this.from = out;
    if (across < this.least) this.least = across;
    if (across > this.most) this.most = across;
    if (z < this.zFrom) this.zFrom = z;
    if (z > this.zTo) this.zTo = z;
  }

  holds(out: number, across: number): boolean {
    return out >= this.from && across >= this.least && across <= this.most;
  }

  grown(by: number): Span {
    const answer = new Span();
    answer.from = this.from - by;
    answer.least = this.least - by;
    answer.most = this.most + by;
    answer.zFrom = this.zFrom - by;
    answer.zTo = this.zTo + by;
    return answer;
  }
}
