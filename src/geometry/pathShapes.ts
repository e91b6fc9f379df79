import { curveOf } from "./curveCache";
import { defaultUp, sectionAxes, sectionTurn } from "./frames";
import { refusal } from "./refusal";
import type { PathData } from "./tubeShape";
import {
  addScaled,
  anyPerpendicular,
  cross,
  distance,
  length,
  normalize,
  radians,
  type Vec3,
} from "./vector";

/** Paths made from numbers and from other paths: plain data in, plain data out. */

/**
 * Points per turn of a helix: the spline through them leaves the true helix by less than 1e-4 of its radius.
 */
const pointsPerTurn = 24;

export interface HelixShape {
  /** Point of the axis at the start, mm. */
  readonly from: Vec3;
  readonly axis: Vec3;
  /** Distance from the axis at the start and at the end, mm; linear between. */
  readonly startRadius: number;
  readonly endRadius: number;
  /** Way along the axis per turn, mm. */
  readonly rise: number;
  /** Turns, right-handed about the axis; negative: left-handed. */
  readonly turns: number;
  /** Where it starts, degrees right-handed about the axis from the direction that `defaultUp` gives. */
  readonly phase: number;
}

/** A helix, or with two radii a conical one, as an open path. */
export function helixPath(shape: HelixShape): PathData {
  finite(shape.turns, "turns of the helix");
  finite(shape.rise, "rise of the helix");
  finite(shape.startRadius, "radius of the helix");
  finite(shape.endRadius, "radius of the helix");
  const axis = normalize(shape.axis);
  const y = length(shape.axis) > 0 ? defaultUp(axis) : anyPerpendicular(axis);
  const left = cross(axis, y);
  const steps = Math.max(2, Math.ceil(Math.abs(shape.turns) * pointsPerTurn));
  const points: Vec3[] = [];
  for (let i = 0; i <= steps; i++) {
    const share = i / steps;
    const angle = radians(shape.phase) + 2 * Math.PI * shape.turns * share;
    const radius = shape.startRadius + (shape.endRadius - shape.startRadius) * share;
    const onAxis = addScaled(shape.from, axis, shape.rise * Math.abs(shape.turns) * share);
    points.push(addScaled(addScaled(onAxis, y, radius * Math.cos(angle)), left, radius * Math.sin(angle)));
  }
  return { kind: "through", points, closed: false };
}

export interface SpiralShape {
  /** Distance from the core at a share of its length, mm. */
  readonly away: (share: number) => number;
  /** Turns about the core over its length, right-handed along it; negative: left-handed. */
  readonly turns: number;
  /** Where it starts, degrees about the core from the direction that `defaultUp` gives. */
  readonly phase: number;
}

/**
 * A spiral around another path, wound in its rotation-minimising frame. Closed if the core is closed and the turns are
 * a whole number. It keeps to the core and to `away` by a point for every `spacing` mm of the core, and by as many as the
 * core has.
 */
export function frameSpiral(core: PathData, shape: SpiralShape, spacing = 3): PathData {
  finite(shape.turns, "turns of the spiral");
  const curve = curveOf(core);
  const steps = Math.max(
    8,
    Math.ceil(Math.abs(shape.turns) * pointsPerTurn),
    Math.ceil(curve.length / spacing),
    core.points.length,
  );
  const closed = core.closed && Number.isInteger(shape.turns);
  const shares = Array.from({ length: steps + 1 }, (_, i) => i / steps);
  const samples = curve.sample(shares);
  const axes = sectionAxes(samples, shares, sectionTurn(curve, 0));
  const points = shares.map((share, i): Vec3 => {
    const away = finite(shape.away(share), "distance of the spiral from its core");
    // From +Y towards -X, which is right-handed about the path: x × y is its direction.
    const angle = radians(shape.phase) + 2 * Math.PI * shape.turns * share;
    const [u, v] = [-away * Math.sin(angle), away * Math.cos(angle)];
    const a = i * 3;
    return [
      samples.points[a] + u * axes.x[a] + v * axes.y[a],
      samples.points[a + 1] + u * axes.x[a + 1] + v * axes.y[a + 1],
      samples.points[a + 2] + u * axes.x[a + 2] + v * axes.y[a + 2],
    ];
  });
  return { kind: "through", points: closed ? points.slice(0, -1) : points, closed };
}

/** `count` shares spread evenly over a path: from end to end of an open one, around a closed one. */
export function evenShares(count: number, closed: boolean): number[] {
  if (!Number.isInteger(count) || count < 1) {
    throw refusal("count-not-positive", `the count is ${count}`, "give a whole number of at least 1");
  }
  if (count === 1) return [closed ? 0 : 0.5];
  return Array.from({ length: count }, (_, i) => i / (closed ? count : count - 1));
}

/** The path as a spline through `count` points spread evenly over it, the ends of an open one among them. */
export function resampled(path: PathData, count: number): PathData {
  const curve = curveOf(path);
  const shares = evenShares(Math.max(path.closed ? 3 : 2, count), path.closed);
  return { kind: "through", points: shares.map((share) => curve.pointAt(share)), closed: path.closed };
}

/**
 * The stretch of a path between two shares, as an open path through points no farther apart than `spacing` mm. From
 * above to: runs backwards, or, on a closed path, on over its start.
 */
export function partOfPath(path: PathData, from: number, to: number, spacing = 3): PathData {
  finite(from, "first share of the part");
  finite(to, "last share of the part");
  const curve = curveOf(path);
  const end = path.closed && to <= from ? to + 1 : to;
  const steps = Math.max(2, Math.ceil((Math.abs(end - from) * curve.length) / spacing));
  const points = Array.from({ length: steps + 1 }, (_, i) =>
    curve.pointAt(from + ((end - from) * i) / steps),
  );
  return { kind: "through", points, closed: false };
}

/** The same path from its end to its start. */
export function reversedPath(path: PathData): PathData {
  return { ...path, points: [...path.points].reverse() };
}

/** The path on the other side of the sagittal plane. */
export function mirroredPath(path: PathData): PathData {
  return { ...path, points: path.points.map(([x, y, z]): Vec3 => [-x, y, z]) };
}

/** The path moved off itself: every point by the vector that `by` gives for it and its share, mm. */
export function raisedPath(path: PathData, by: (point: Vec3, share: number) => Vec3, spacing = 3): PathData {
  const curve = curveOf(path);
  const steps = Math.max(path.closed ? 3 : 2, Math.ceil(curve.length / spacing));
  const shares = Array.from({ length: path.closed ? steps : steps + 1 }, (_, i) => i / steps);
  const points = shares.map((share): Vec3 => {
    const point = curve.pointAt(share);
    return addScaled(point, by(point, share), 1);
  });
  return { kind: "through", points, closed: path.closed };
}

/**
 * Open paths one after the other as one path through points no farther apart than `spacing` mm; ends nearer than a
 * third of that are joined in one point. `closed`: the last runs back into the first.
 */
export function joinedPaths(paths: readonly PathData[], closed = false, spacing = 3): PathData {
  const points: Vec3[] = [];
  for (const path of paths) {
    if (path.closed) {
      throw refusal("closed-path-joined", "a closed path cannot be joined to another", "take a part of it");
    }
    const part = path.points.length === 2 ? path : partOfPath(path, 0, 1, spacing);
    const meets = points.length > 0 && distance(points[points.length - 1], part.points[0]) < spacing / 3;
    points.push(...part.points.slice(meets ? 1 : 0));
  }
  if (closed && distance(points[0], points[points.length - 1]) < spacing / 3) points.pop();
  return { kind: "through", points, closed };
}

function finite(value: number, what: string): number {
  if (!Number.isFinite(value)) throw refusal("not-finite", `the ${what} is ${value}`, "give a finite number");
  return value;
}
