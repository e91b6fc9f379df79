import type { Curve } from "../geometry/curve";
import { curveOf } from "../geometry/curveCache";
import {
  evenShares,
  frameSpiral,
  helixPath,
  joinedPaths,
  mirroredPath,
  partOfPath,
  raisedPath,
  reversedPath,
} from "../geometry/pathShapes";
import type { PathData } from "../geometry/tubeShape";
import type { Vec3 } from "../geometry/vector";
import { addScaled, distance, dot, normalize, subtract } from "../geometry/vector";
import { directionOf, number, options, shown } from "./check";
import { makeContext } from "./context";
import { designError } from "./error";
import type { HeadSpace } from "./headSpace";
import { PathPoint, Point, type PointLike, toPoint } from "./point";

/** Widest spacing of the points by which a derived path keeps the shape of the path that it came from, mm. */
const sampleSpacing = 3;
/** Least number of steps of a derived path, so that a short one keeps its shape too. */
const leastSteps = 24;
/** Steps in which a path is looked through for an azimuth. */
const azimuthSteps = 180;
/** Two points nearer than this are the same point, mm. */
const samePoint = 1e-4;

/**
 * A smooth line in space that tubes are swept along: open or closed. Made by `through`, `pulledBy`, `straight`,
 * `helix`, `spiralAround`, `alongHead` or by the lines of the head. A path never changes: each method gives a
 * new one.
 */
export class Path {
  /** The spline as plain data. */
  readonly data: PathData;
  #azimuths: { readonly head: HeadSpace; readonly of: readonly number[] } | undefined;

  constructor(data: PathData) {
    this.data = checkedPath(data);
  }

  /** Whether it runs back into its own start. */
  get closed(): boolean {
    return this.data.closed;
  }

  /** mm */
  get length(): number {
    return this.#curve.length;
  }

  /** First point. */
  get start(): PathPoint {
    return this.at(0);
  }

  /** Last point. */
  get end(): PathPoint {
    return this.at(1);
  }

  /**
   * The point at a share of the length: 0 the start, 1 the end. A closed path goes round.
   * @example stem.at(0.5)
   */
  at(share: number): PathPoint {
    const s = this.closed
      ? number(share, "share") - Math.floor(share)
      : number(share, "share", { least: -1e-9, most: 1 + 1e-9 });
    const position = this.#curve.pointAt(s);
    const along = this.#curve.tangentAt(s);
    return new PathPoint(position, outOf(position, along), along, s);
  }

  /**
   * The point at a length from the start, mm; negative: from the end.
   * @example head.girthLine.atLength(40) // 40 mm to the right of the middle of the brow
   */
  atLength(along: number): PathPoint {
    const from = number(along, "length along the path");
    return this.at((from < 0 && !this.closed ? this.length + from : from) / this.length);
  }

  /**
   * The point of the path that lies at an azimuth about the head (the nearest to it where the path passes twice).
   * @example ring.atAzimuth(90) // above the right ear
   */
  atAzimuth(azimuth: number): PathPoint {
    const wanted = number(azimuth, "azimuth");
    const { head } = makeContext("atAzimuth");
    const off = (share: number) => turnBetween(this.#azimuthAt(share, head), wanted);
    let best = 0;
    let least = Number.POSITIVE_INFINITY;
    this.#azimuthsAbout(head).forEach((azimuth, i) => {
      const miss = Math.abs(turnBetween(azimuth, wanted));
      if (miss < least) [best, least] = [i / azimuthSteps, miss];
    });
    let low = Math.max(0, best - 1 / azimuthSteps);
    let high = Math.min(1, best + 1 / azimuthSteps);
    let [offLow, offHigh] = [off(low), off(high)];
    const rising = offHigh > offLow;
    for (let i = 0; i < 40 && offLow * offHigh < 0; i++) {
      const middle = (low + high) / 2;
      const offMiddle = off(middle);
      if (offMiddle > 0 === rising) [high, offHigh] = [middle, offMiddle];
      else [low, offLow] = [middle, offMiddle];
    }
    const refined = (low + high) / 2;
    return this.at(Math.abs(off(refined)) <= least ? refined : best);
  }

  /**
   * The point of the path that is nearest to another point.
   * @example head.girthLine.nearestTo(head.landmarks.leftTemple)
   */
  nearestTo(point: PointLike): PathPoint {
    return this.at(this.#curve.nearestShare(toPoint(point).position));
  }

  /**
   * Points spread evenly: on an open path with one at each end, on a closed one all round.
   * @example head.girthLine.spread(12)
   */
  spread(points: number, within: { from?: number; to?: number } = {}): PathPoint[] {
    const n = number(points, "how many points to spread", { least: 1, most: 100_000, whole: true });
    options(within, "spread", ["from", "to"]);
    const whole = this.closed && within.from === undefined && within.to === undefined;
    const from = number(within.from ?? 0, "from of spread");
    const to = number(within.to ?? 1, "to of spread");
    return evenShares(n, whole).map((share) => this.at(from + (to - from) * share));
  }

  /**
   * Points spread evenly with as near the wanted distance between as fits a whole number of times, mm.
   * @example head.girthLine.spreadEvery(15)
   */
  spreadEvery(pitch: number): PathPoint[] {
    const spaces = Math.max(1, Math.round(this.length / number(pitch, "pitch", { above: 0 })));
    return this.spread(this.closed ? spaces : spaces + 1);
  }

  /**
   * The stretch between two shares of the length, as an open path. Where the second is the smaller, an open path runs
   * backwards and a closed one on over its start.
   * @example head.girthLine.part(0.75, 0.25) // from the left over the brow to the right
   */
  part(from: number, to: number): Path {
    const within = this.closed ? {} : { least: 0, most: 1 };
    const a = number(from, "from of part", within);
    const b = number(to, "to of part", within);
    if (a === b && !this.closed) {
      throw designError({
        id: "no-length",
        text: `part from ${a} to ${b} has no length`,
        suggestion: "give two shares that differ",
      });
    }
    return new Path(partOfPath(this.data, a, b, spacingOf(this)));
  }

  /**
   * The same line, run the other way.
   * @example head.sagittalLine.reversed() // from the nape over the crown to the brow
   */
  reversed(): Path {
    return new Path(reversedPath(this.data));
  }

  /**
   * The line on the other side of the head.
   * @example stem.path.mirrored()
   */
  mirrored(): Path {
    return new Path(mirroredPath(this.data));
  }

  /**
   * The line turned about the head's upright axis, degrees, to the wearer's right from the front.
   * @example stem.path.turned(72)
   */
  turned(angle: number): Path {
    return this.#mapped((point) => point.turned(angle));
  }

  /**
   * The line shifted in the head frame, mm.
   * @example head.girthLine.moved({ up: 20 })
   */
  moved(by: { right?: number; forward?: number; up?: number }): Path {
    return this.#mapped((point) => point.moved(by));
  }

  /**
   * The line moved off the head, mm; a function of the share lets it rise and fall.
   * @example head.girthLine.lifted((share) => 4 + 2 * Math.sin(share * 12 * Math.PI))
   */
  lifted(lift: number | ((share: number) => number)): Path {
    return this.#raised((point) =>
      point.lifted(typeof lift === "function" ? number(lift(point.share), "lift of lifted") : lift),
    );
  }

  /**
   * The line moved up over the head's surface towards the crown, mm along the surface; negative: down.
   * @example head.girthLine.raised(12)
   */
  raised(by: number | ((share: number) => number)): Path {
    const { head } = makeContext("raised");
    return this.#raised((point) =>
      head.raise(point, number(typeof by === "function" ? by(point.share) : by, "by of raised")),
    );
  }

  /**
   * This line and another as one: the end of this runs smoothly into the start of the other.
   * @example stem.path.joined(straight(stem.path.end, onHead({ azimuth: 0, elevation: 60, lift: 90 })))
   */
  joined(other: Path): Path {
    return new Path(joinedPaths([this.data, toPath(other, "joined").data]));
  }

  get #curve(): Curve {
    return curveOf(this.data);
  }

  #azimuthAt(share: number, head: HeadSpace): number {
    return head.coordinatesOf(this.#curve.pointAt(share)).azimuth;
  }

  /** Azimuths of points spread evenly, kept: a line is often asked for many places. */
  #azimuthsAbout(head: HeadSpace): readonly number[] {
    if (this.#azimuths?.head !== head) {
      const of = Array.from({ length: azimuthSteps + 1 }, (_, i) => this.#azimuthAt(i / azimuthSteps, head));
      this.#azimuths = { head, of };
    }
    return this.#azimuths.of;
  }

  #mapped(change: (point: Point) => Point): Path {
    const points = this.data.points.map((position) => change(new Point(position, [0, 0, 1])).position);
    return new Path({ ...this.data, points });
  }

  #raised(change: (point: PathPoint) => Point): Path {
    return new Path(
      raisedPath(
        this.data,
        (position, share) => subtract(change(this.at(share)).position, position),
        spacingOf(this),
      ),
    );
  }
}

/**
 * A smooth path that passes through its points (centripetal Catmull-Rom spline).
 * @example through([ring.atAzimuth(0), onHead({ azimuth: 0, elevation: 40, lift: 30 }), [0, 60, 260]])
 */
export function through(points: readonly PointLike[], shape: { closed?: boolean } = {}): Path {
  options(shape, "through", ["closed"]);
  return new Path({ kind: "through", points: positions(points, "through"), closed: shape.closed ?? false });
}

/**
 * A path that is drawn towards its points without passing through them, smoother still (cubic B-spline). An open
 * one starts and ends on its end points.
 * @example pulledBy([[60, 0, 90], [90, 40, 140], [40, 90, 180]])
 */
export function pulledBy(points: readonly PointLike[], shape: { closed?: boolean } = {}): Path {
  options(shape, "pulledBy", ["closed"]);
  return new Path({ kind: "pulled", points: positions(points, "pulledBy"), closed: shape.closed ?? false });
}

/**
 * A straight path.
 * @example straight(head.landmarks.crown, head.landmarks.crown.moved({ up: 80 }))
 */
export const straight = (from: PointLike, to: PointLike): Path => through([from, to]);

/**
 * A helix about an axis that starts at `from` and points along `axis`.
 * @example helix({ from: head.landmarks.crown, radius: 20, rise: 15, turns: 3 })
 */
export function helix(shape: {
  /** Where the axis starts. */
  from: PointLike;
  /** Direction of the axis; straight up unless given. */
  axis?: Vec3;
  /** Distance from the axis, mm; a pair narrows or widens from the first to the second. */
  radius: number | readonly [number, number];
  /** Rise along the axis for each turn, mm. */
  rise: number;
  /** Right-handed about the axis; negative: the other hand. */
  turns: number;
  /** Degrees about the axis at which it starts; 0: as near to straight up from the axis as can be. */
  phase?: number;
}): Path {
  options(shape, "helix", ["from", "axis", "radius", "rise", "turns", "phase"]);
  const pair = typeof shape.radius === "number" ? [shape.radius, shape.radius] : shape.radius;
  const [startRadius, endRadius] = pair.map((r) => number(r, "radius of helix", { least: 0 }));
  return new Path(
    helixPath({
      from: toPoint(shape.from, "from of helix").position,
      axis: shape.axis ? directionOf(shape.axis, "axis of helix") : [0, 0, 1],
      startRadius,
      endRadius,
      rise: number(shape.rise, "rise of helix"),
      turns: number(shape.turns, "turns of helix", { least: -1000, most: 1000 }),
      phase: number(shape.phase ?? 0, "phase of helix"),
    }),
  );
}

/**
 * A spiral that winds around another path.
 * @example spiralAround(stem.path, { away: 9, turns: 6 })
 */
export function spiralAround(
  path: Path | { readonly path: Path },
  shape: {
    /** Distance from the path, mm, constant or by the share of its length. */
    away: number | ((share: number) => number);
    /** Turns from start to end; negative: the other hand. */
    turns: number;
    /** Degrees about the path at which it starts; 0: as near to straight up from it as can be. */
    phase?: number;
  },
): Path {
  options(shape, "spiralAround", ["away", "turns", "phase"]);
  const core = toPath(path, "spiralAround");
  const { away } = shape;
  const turns = number(shape.turns, "turns of spiralAround", { least: -1000, most: 1000 });
  const distanceAt = typeof away === "function" ? away : () => away;
  return new Path(
    frameSpiral(
      core.data,
      {
        away: (share) => number(distanceAt(share), "away of spiralAround", { least: 0 }),
        turns,
        phase: number(shape.phase ?? 0, "phase of spiralAround"),
      },
      spacingOf(core),
    ),
  );
}

/** A path, or the path of a part that has one. */
export function toPath(value: Path | { readonly path: Path } | readonly PointLike[], caller: string): Path {
  if (value instanceof Path) return value;
  if (Array.isArray(value)) return through(value as readonly PointLike[]);
  const inner = (value as { path?: unknown } | null)?.path;
  if (inner instanceof Path) return inner;
  throw designError({
    id: "not-a-path",
    text: `${caller} takes a path or a list of points, not ${shown(value)}`,
    suggestion: "write through([…]) or a list of at least two points",
  });
}

function positions(points: readonly PointLike[], caller: string): Vec3[] {
  if (!Array.isArray(points)) {
    throw designError({
      id: "not-a-path",
      text: `${caller} takes a list of points, not ${shown(points)}`,
      suggestion: "write a list of at least two points",
    });
  }
  return points.map((point, i) => toPoint(point, `point ${i + 1} of ${caller}`).position);
}

/** How far apart a path that is derived from another keeps its points, mm. */
const spacingOf = ({ length }: Path): number => Math.min(sampleSpacing, length / leastSteps);

function checkedPath(data: PathData): PathData {
  const { points, closed } = data;
  const least = closed ? 3 : 2;
  if (points.length < least) {
    throw designError({
      id: "too-few-points",
      text: `a${closed ? " closed" : ""} path of ${points.length} point${points.length === 1 ? "" : "s"}`,
      suggestion: `give at least ${least} points`,
    });
  }
  for (let i = 0; i < (closed ? points.length : points.length - 1); i++) {
    const next = (i + 1) % points.length;
    if (distance(points[i], points[next]) >= samePoint) continue;
    throw designError({
      id: "equal-points",
      text: `points ${i + 1} and ${next + 1} of the path are the same`,
      suggestion:
        next === 0 ? "leave out the last: a closed path returns by itself" : "leave one of them out",
    });
  }
  return data;
}

/** Direction off the head at a point of a path, square to the path. */
function outOf(position: Vec3, along: Vec3): Vec3 {
  const off = makeContext("a point of a path").head.outAt(position);
  const square = addScaled(off, along, -dot(off, along));
  if (Math.hypot(...square) > 1e-6) return normalize(square);
  const across: Vec3 = Math.abs(along[2]) < 0.9 ? [0, 0, 1] : [0, 1, 0];
  return normalize(subtract(across, addScaled([0, 0, 0], along, dot(across, along))));
}

/** Signed turn from one azimuth to another, -180 to 180 degrees. */
const turnBetween = (azimuth: number, wanted: number): number =>
  ((((azimuth - wanted + 180) % 360) + 360) % 360) - 180;
