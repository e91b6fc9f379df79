import { lastAtOrBelow } from "./curve";
import type { TriangleMesh } from "./mesh";
import { convexParts, turn } from "./polygon";
import { axesAt, type PreparedTube, placeRings, prepareTube, type Rings } from "./rings";
import type { Section } from "./section";
import { type SectionFrame, SectionFrames } from "./sectionFrames";
import { nearPairs, preparedSelfOverlap } from "./selfOverlap";
import { checkedTolerance, defaultTolerance, skin, sweepPrepared } from "./sweep";
import { type Cap, domeRings, leastRadius } from "./tips";
import type { TubeShape } from "./tubeShape";
import type { Vec2, Vec3 } from "./vector";

/** A body that overlaps itself nowhere: a closed mesh, or the convex hull of points (x, y, z of each in turn). */
export type OverlapPiece =
  | { readonly kind: "mesh"; readonly mesh: TriangleMesh }
  | { readonly kind: "hull"; readonly points: Float32Array };

/**
 * Pieces overlap with surfaces that differ by this share of the radius, so that they cross instead of lying in one
 * another's plane, where a union would leave slivers.
 */
const step = 0.004;
/** How far a piece reaches into its neighbour: share of the radius for runs, of the stretch for hulls. */
const plugLength = 0.15;
const hullOverlap = 0.12;
/** A convex part of an outline reaches over its diagonals into its neighbours, in radii. */
const diagonalOverlap = 0.01;

/**
 * A tube as pieces whose union is the true solid (every point of every section along the path), also where the sweep of
 * the whole would overlap itself. Where the sections do not meet their neighbours the path is cut into runs that keep
 * clear of themselves, each swept as it is; where they do, each two neighbouring sections are hulled. An ordinary tube
 * comes back as its sweep, one piece.
 */
export function overlapPieces(shape: TubeShape, tolerance = defaultTolerance): OverlapPiece[] {
  return preparedPieces(prepareTube(shape, checkedTolerance(tolerance)), tolerance);
}

/** `overlapPieces` of a tube that is measured already, or of its stretch between two shares. */
export function preparedPieces(tube: PreparedTube, tolerance: number, from = 0, to = 1): OverlapPiece[] {
  if (preparedSelfOverlap(tube).length === 0) {
    return [{ kind: "mesh", mesh: sweepPrepared(tube, tolerance, from, to) }];
  }
  const rings = placeRings(tube, tolerance, from, to);
  const frames = new SectionFrames(tube.curve, tube.turnAt);
  // Intervals between rings; on a closed tube the last one runs from the last ring to the first.
  const intervals = rings.closed ? rings.count : rings.count - 1;
  const folded = foldedIntervals(tube, rings, intervals);
  const ends = clearEnds(tube, rings, intervals);
  const pieces: OverlapPiece[] = [];
  const parts = convexOutlines(tube.section);
  for (let i = 0; i < intervals; ) {
    if (folded[i]) {
      for (const part of parts)
        pieces.push(hullPiece(tube, frames, rings, i, part, pieces.length, tolerance));
      i++;
      continue;
    }
    let end = i + 1;
    while (end < intervals && !folded[end] && end < ends[i]) end++;
    pieces.push({ kind: "mesh", mesh: runMesh(tube, rings, i, end, intervals, tolerance) });
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
function clearEnds(tube: PreparedTube, rings: Rings, intervals: number): Int32Array {
  const { count, firstAfter } = nearPairs(tube);
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

/** A run of intervals as a swept mesh; its start reaches back into the piece before, a little narrower than that. */
function runMesh(
  tube: PreparedTube,
  rings: Rings,
  first: number,
  end: number,
  intervals: number,
  tolerance: number,
): TriangleMesh {
  const atStart = first === 0 && !rings.closed;
  const atEnd = end === intervals && !rings.closed;
  const indices = Array.from({ length: end - first + 1 }, (_, k) => (first + k) % rings.count);
  if (!atStart) indices.unshift(indices[0]);
  const pick = (from: Float64Array) =>
    Float64Array.from(indices.flatMap((i) => [from[i * 3], from[i * 3 + 1], from[i * 3 + 2]]));
  const centres = pick(rings.centres);
  const tangents = pick(rings.tangents);
  const radii = Float64Array.from(indices, (i) => rings.radii[i]);
  if (!atStart) {
    const back = plugLength * radii[0];
    for (let axis = 0; axis < 3; axis++) centres[axis] -= back * tangents[axis];
    radii[0] *= 0.95;
    radii[1] *= 1 - step;
  }
  const run: Rings = {
    count: indices.length,
    closed: false,
    shares: Float64Array.from(indices, (i) => rings.shares[i]),
    radii,
    centres,
    tangents,
    x: pick(rings.x),
    y: pick(rings.y),
  };
  const flat: Cap = { kind: "flat" };
  return skin(
    run,
    tube.section,
    atStart ? tube.profile.start : flat,
    atEnd ? tube.profile.end : flat,
    tolerance,
  );
}

/** The hull of the sections at both ends of an interval, reaching a little beyond them. */
function hullPiece(
  tube: PreparedTube,
  frames: SectionFrames,
  rings: Rings,
  interval: number,
  outline: readonly Vec2[],
  parity: number,
  tolerance: number,
): OverlapPiece {
  const { curve, profile } = tube;
  const [a, b] = [rings.shares[interval], shareOf(rings, interval + 1)];
  const beyond = hullOverlap * (b - a);
  const [least, most] = [rings.shares[0], rings.shares[rings.count - 1]];
  const [from, to] = rings.closed
    ? [a - beyond, b + beyond]
    : [Math.max(least, a - beyond), Math.min(most, b + beyond)];
  const width = (to - from) * curve.length;
  const wider = 1 + (parity % 2 === 0 ? step / 2 : -step / 2);
  const points: number[] = [];
  const [first, second] = [frames.at(from), frames.at(to)];
  // The mean curvature of the stretch, whose centre lies in the direction of the tangent's change.
  const k: Vec3 = [0, 1, 2].map((axis) => (second.tangent[axis] - first.tangent[axis]) / width) as [
    number,
    number,
    number,
  ];
  for (const [frame, share, cap, sign] of [
    [first, from, profile.start, -1],
    [second, to, profile.end, 1],
  ] as const) {
    const wrapped = rings.closed ? share - Math.floor(share) : share;
    const radius = Math.max(profile.radiusAt(wrapped * curve.length), leastRadius) * wider;
    for (const q of outline) {
      const p = place(frame, q, radius);
      // Outwards from the axis of curvature by two thirds of the sagitta, as the rings of a sweep.
      const toAxis =
        1 -
        (p[0] - frame.centre[0]) * k[0] -
        (p[1] - frame.centre[1]) * k[1] -
        (p[2] - frame.centre[2]) * k[2];
      const out = (toAxis * width * width) / 12;
      points.push(p[0] - k[0] * out, p[1] - k[1] * out, p[2] - k[2] * out);
    }
    const last = !rings.closed && share === (sign < 0 ? least : most);
    if (!last || cap.kind === "flat" || cap.radius < leastRadius) continue;
    const dome = domeRings(radius, cap.radius, tolerance);
    dome.radii.forEach((r, i) => {
      for (const q of outline) {
        const p = place(frame, q, r);
        for (let axis = 0; axis < 3; axis++)
          points.push(p[axis] + sign * dome.offsets[i] * frame.tangent[axis]);
      }
    });
    for (let axis = 0; axis < 3; axis++)
      points.push(frame.centre[axis] + sign * dome.pole * frame.tangent[axis]);
  }
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
