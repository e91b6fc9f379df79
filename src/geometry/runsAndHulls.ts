import type { BodyPiece } from "./bodyPiece";
import { lastAtOrBelow } from "./curve";
import type { Stretch } from "./foldedBend";
import { convexParts, turn } from "./polygon";
import { pieceStep, ringRun } from "./ringRun";
import { axesAt, type PreparedTube, placeRings, type Rings } from "./rings";
import type { Section } from "./section";
import { type SectionFrame, SectionFrames } from "./sectionFrames";
import type { NearPairs } from "./selfOverlap";
import { skin } from "./sweep";
import { type Cap, domeRings, leastRadius } from "./tips";
import type { Vec2, Vec3 } from "./vector";

/** The path turns by no more than this within a hull of several intervals, radians: hulls fill what is hollow. */
const greatestHullTurn = 0.6;
/** A hull reaches into its neighbours by this share of its length. */
const hullOverlap = 0.12;
/** A convex part of an outline reaches over its diagonals into its neighbours, in radii. */
const diagonalOverlap = 0.01;

/**
 * A stretch of a tube as runs of rings that keep clear of themselves, each swept as it is, and where neighbouring sections
 * meet as the hulls of each two of them. Right for any tube, yet many pieces.
 */
export function runsAndHulls(stretch: Stretch, tolerance: number): BodyPiece[] {
  const { tube, from, to, plugged } = stretch;
  const rings = placeRings(tube, tolerance, from, to);
  const frames = new SectionFrames(tube.curve, tube.turnAt);
  // Intervals between rings; on a closed tube the last one runs from the last ring to the first.
  const intervals = rings.closed ? rings.count : rings.count - 1;
  const folded = foldedIntervals(tube, rings, intervals);
  const ends = clearEnds(stretch.near, rings, intervals);
  const pieces: BodyPiece[] = [];
  const parts = convexOutlines(tube.section);
  const flat: Cap = { kind: "flat" };
  for (let i = 0; i < intervals; ) {
    if (folded[i]) {
      let end = i + 1;
      while (end < intervals && folded[end] && turnBetween(rings, i, end + 1) < greatestHullTurn) end++;
      for (const part of parts)
        pieces.push(hullPiece(tube, frames, rings, i, end, part, pieces.length, tolerance, plugged));
      i = end;
      continue;
    }
    let end = i + 1;
    while (end < intervals && !folded[end] && end < ends[i]) end++;
    const atStart = i === 0 && !rings.closed;
    const run = ringRun(rings, i, end, plugged || !atStart);
    const caps = [
      atStart ? tube.profile.start : flat,
      end === intervals && !rings.closed ? tube.profile.end : flat,
    ];
    pieces.push({ kind: "mesh", mesh: skin(run, tube.section, caps[0], caps[1], tolerance) });
    i = end;
  }
  return pieces;
}

/** Share of ring i, also of the one past the last. */
const shareOf = (rings: Rings, i: number): number => (rings.closed && i >= rings.count ? 1 : rings.shares[i]);

/** Whether a section between two rings meets its neighbour: tested on the sections themselves. */
function foldedIntervals(tube: PreparedTube, rings: Rings, intervals: number): boolean[] {
  const { curve, profile, section } = tube;
  const looks = 4;
  const shares = new Float64Array(intervals * looks + 1);
  for (let k = 0; k <= intervals * looks; k++) {
    const [i, part] = [Math.floor(k / looks), (k % looks) / looks];
    shares[k] =
      k === intervals * looks ? 1 : rings.shares[i] + part * (shareOf(rings, i + 1) - rings.shares[i]);
  }
  const samples = curve.sample(shares);
  const axes = axesAt(tube, shares, samples);
  const { points: p, tangents: t } = samples;
  const radii = shares.map((share) => profile.radiusAt(share * curve.length));
  /** Whether section b is nowhere clear in front of section a, nor a behind b. */
  const meet = (a: number, b: number): boolean => {
    const least = 0.03 * (shares[b] - shares[a]) * curve.length;
    const across = (from: number, to: number, sign: number): boolean => {
      const [f, g] = [from * 3, to * 3];
      let [base, u, v] = [0, 0, 0];
      for (let axis = 0; axis < 3; axis++) {
        base += (p[g + axis] - p[f + axis]) * t[f + axis];
        u += axes.x[g + axis] * t[f + axis];
        v += axes.y[g + axis] * t[f + axis];
      }
      return section.points.some((q) => sign * (base + radii[to] * (q[0] * u + q[1] * v)) < least);
    };
    return across(a, b, 1) || across(b, a, -1);
  };
  return Array.from({ length: intervals }, (_, i) => {
    const first = i * looks;
    for (let k = first; k < first + looks; k++) if (meet(k, k + 1)) return true;
    return meet(first, first + looks);
  });
}

const place = (f: SectionFrame, q: Vec2, radius: number): Vec3 => [
  f.centre[0] + radius * (q[0] * f.x[0] + q[1] * f.y[0]),
  f.centre[1] + radius * (q[0] * f.x[1] + q[1] * f.y[1]),
  f.centre[2] + radius * (q[0] * f.x[2] + q[1] * f.y[2]),
];

/** For a run from each ring the interval before which it must end to keep clear of itself. */
function clearEnds({ count, firstAfter }: NearPairs, rings: Rings, intervals: number): Int32Array {
  const intervalOf = (place: number): number =>
    Math.min(intervals - 1, lastAtOrBelow(rings.shares, place / (count - 1)));
  const ends = new Int32Array(intervals).fill(intervals);
  for (let k = count - 1; k >= 0; k--) {
    if (firstAfter[k] === count) continue;
    // Both places lie in their intervals' insides at worst: the run must end before the later one begins.
    const i = intervalOf(k);
    ends[i] = Math.min(ends[i], intervalOf(firstAfter[k]));
  }
  // A run also meets what the rings after its start must keep clear of.
  for (let i = intervals - 2; i >= 0; i--) ends[i] = Math.min(ends[i], Math.max(ends[i + 1], i + 1));
  return ends;
}

/** Angle between the path's directions at two rings, radians. */
function turnBetween({ tangents: t, count }: Rings, from: number, to: number): number {
  const [a, b] = [(from % count) * 3, (to % count) * 3];
  return Math.acos(Math.max(-1, Math.min(1, t[a] * t[b] + t[a + 1] * t[b + 1] + t[a + 2] * t[b + 2])));
}

/** The hull of the sections from one ring to another, reaching a little beyond them. */
function hullPiece(
  tube: PreparedTube,
  frames: SectionFrames,
  rings: Rings,
  first: number,
  end: number,
  outline: readonly Vec2[],
  parity: number,
  tolerance: number,
  plugged: boolean,
): BodyPiece {
  const { curve, profile } = tube;
  // A stretch that is plugged reaches into the one before it.
  const least = plugged ? 0 : rings.shares[0];
  const most = rings.shares[rings.count - 1];
  const wider = 1 + (parity % 2 === 0 ? pieceStep / 2 : -pieceStep / 2);
  const clamped = (share: number) => (rings.closed ? share : Math.max(least, Math.min(most, share)));
  const shares: number[] = [];
  for (let i = first; i <= end; i++) shares.push(shareOf(rings, i));
  const last = shares.length - 1;
  shares[0] = clamped(shares[0] - hullOverlap * (shares[1] - shares[0]));
  shares[last] = clamped(shares[last] + hullOverlap * (shares[last] - shares[last - 1]));
  const placed = shares.map((share) => frames.at(share));
  const points: number[] = [];
  placed.forEach((frame, i) => {
    const share = rings.closed ? shares[i] - Math.floor(shares[i]) : shares[i];
    const radius = Math.max(profile.radiusAt(share * curve.length), leastRadius) * wider;
    // The mean curvature about the section, whose centre lies in the direction of the tangent's change.
    const [before, after] = [Math.max(0, i - 1), Math.min(last, i + 1)];
    const width = (shares[after] - shares[before]) * curve.length;
    const step = width / (after - before);
    const k = [0, 1, 2].map((axis) => (placed[after].tangent[axis] - placed[before].tangent[axis]) / width);
    for (const q of outline) {
      const p = place(frame, q, radius);
      // Outwards from the axis of curvature by two thirds of the sagitta, as the rings of a sweep.
      const toAxis =
        1 -
        (p[0] - frame.centre[0]) * k[0] -
        (p[1] - frame.centre[1]) * k[1] -
        (p[2] - frame.centre[2]) * k[2];
      const out = (toAxis * step * step) / 12;
      points.push(p[0] - k[0] * out, p[1] - k[1] * out, p[2] - k[2] * out);
    }
    for (const [cap, sign, at] of [
      [profile.start, -1, least],
      [profile.end, 1, most],
    ] as const) {
      if (rings.closed || share !== at || (sign < 0 ? i > 0 : i < last)) continue;
      if (cap.kind === "flat" || cap.radius < leastRadius) continue;
      const dome = domeRings(radius, cap.radius, tolerance);
      dome.radii.forEach((r, ring) => {
        for (const q of outline) {
          const p = place(frame, q, r);
          for (let axis = 0; axis < 3; axis++)
            points.push(p[axis] + sign * dome.offsets[ring] * frame.tangent[axis]);
        }
      });
      for (let axis = 0; axis < 3; axis++)
        points.push(frame.centre[axis] + sign * dome.pole * frame.tangent[axis]);
    }
  });
  return { kind: "hull", points: Float32Array.from(points) };
}

/** The section as convex outlines that overlap along the diagonals that part them. */
function convexOutlines(section: Section): Vec2[][] {
  const { points } = section;
  const n = points.length;
  const parts = convexParts(points);
  if (parts.length === 1) return [[...points]];
  return parts.map((part) => {
    const size = part.length;
    const shift = part.map((from, k) => ((from + 1) % n === part[(k + 1) % size] ? 0 : diagonalOverlap));
    return part.map((index, k) => {
      const before = (k + size - 1) % size;
      return movedCorner(
        points[part[before]],
        points[index],
        points[part[(k + 1) % size]],
        shift[before],
        shift[k],
      );
    });
  });
}

/** The corner b of a, b, c once edge a-b is moved out by `first` and b-c by `second`. */
function movedCorner(a: Vec2, b: Vec2, c: Vec2, first: number, second: number): Vec2 {
  if (first === 0 && second === 0) return b;
  const unit = (p: Vec2, q: Vec2): Vec2 => {
    const size = Math.hypot(q[0] - p[0], q[1] - p[1]);
    return [(q[0] - p[0]) / size, (q[1] - p[1]) / size];
  };
  const [u, v] = [unit(a, b), unit(b, c)];
  const sine = turn([0, 0], u, v);
  // At a nearly straight corner the lines hardly cross: move it square to both.
  if (sine < 0.2) {
    const most = Math.max(first, second);
    const [x, y] = [u[1] + v[1], -(u[0] + v[0])];
    const size = Math.hypot(x, y) || 1;
    return [b[0] + (most * x) / size, b[1] + (most * y) / size];
  }
  // Along -v the corner leaves the line a-b, along u the line b-c.
  const [x, y] = [first / sine, second / sine];
  return [b[0] - x * v[0] + y * u[0], b[1] - x * v[1] + y * u[1]];
}
