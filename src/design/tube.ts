import { curveOf } from "../geometry/curveCache";
import type { RadiusData, TubeShape } from "../geometry/tubeShape";
import { clamp, radians, rotateAbout, type Vec3 } from "../geometry/vector";
import type { Place } from "../message";
import { directionOf, number, oneOf, options, shown, text } from "./check";
import { designError, placeOfCall } from "./error";
import type { Resting, TubePart } from "./part";
import { type Path, toPath } from "./path";
import { PathPoint, Point, type PointLike } from "./point";
import { type Section, toSection } from "./section";
import { skinDistance } from "./skin";
import { drawnInto, type Tip, tipsOf } from "./tip";

/**
 * Radius of a tube, mm: constant; a list, spread evenly over the length (or one for each point, where the path is
 * given as a list of as many points); or a function of the share of the length, 0 to 1.
 */
export type Radius = number | readonly number[] | ((share: number) => number);

/** How a tube is swept. */
export interface TubeOptions {
  radius?: Radius;
  /** The swept outline; a circle unless given. */
  section?: Section;
  /**
   * Where the section's own +Y points all along: `"out"`, off the head, as a blade that lies on it; `"up"`; or a
   * direction `[x, y, z]`. Unless given the section starts upright and follows the path without a turn of its own.
   */
  facing?: "out" | "up" | Vec3;
  /** Turn of the section from start to end, degrees. */
  twist?: number;
  /** How both ends finish: round unless given. */
  tip?: Tip;
  /** How the start finishes, where it differs. */
  startTip?: Tip;
  /** How the end finishes, where it differs. */
  endTip?: Tip;
  /** An empty core: thickness of the wall, and diameter of the hole that drains it at a share of the length, mm. */
  hollow?: { wall: number; drain?: number; drainAt?: number };
}

const optionNames = ["radius", "section", "facing", "twist", "tip", "startTip", "endTip", "hollow"] as const;
/** Where a radius is given as a function it is read this often, mm, within limits of the number of steps. */
const radiusSpacing = 1;
const radiusSteps = { least: 96, most: 600 };
const greatestRadius = 500;

/** A tube of the piece. It has the points of its path, so that others can start from it. */
export class Tube implements TubePart {
  readonly kind = "tube";
  readonly name: string;
  readonly shape: TubeShape;
  readonly origin?: Place;
  readonly resting?: Resting;
  readonly #path: Path;

  constructor(name: string, path: Path, shape: TubeShape, origin?: Place, resting?: Resting) {
    this.name = name;
    this.shape = shape;
    if (origin) this.origin = origin;
    if (resting) this.resting = resting;
    this.#path = path;
  }

  /** The path that it is swept along. */
  get path(): Path {
    return this.#path;
  }

  /**
   * The point of its path at a share of the length, 0 to 1.
   * @example tube("twig", [stem.at(0.5), stem.at(0.5).offset({ side: 20, along: 12 })], { radius: [4, 3] })
   */
  at(share: number): PathPoint {
    return this.path.at(share);
  }

  /**
   * The point of its path at an azimuth about the head.
   * @example hole("ribbon", { at: ring.atAzimuth(180), diameter: 5 })
   */
  atAzimuth(azimuth: number): PathPoint {
    return this.path.atAzimuth(azimuth);
  }

  /**
   * The point of its surface at a share of the length, or beside a point of its path, `around` degrees about the
   * path: 0 off the head, 90 to the side of the path. Its `out` points off the tube: for a pearl, a socket, a thorn.
   * @example solid("pearl", primitives.sphere({ radius: 4 }), { at: stem.surfaceAt(0.5, 30) })
   * @example socket("stone", { at: ring.surfaceAt(ring.atAzimuth(20)), diameter: 8, depth: 3 })
   */
  surfaceAt(where: number | PathPoint, around = 0): Point {
    const middle = this.at(where instanceof PathPoint ? where.share : where);
    const turn = radians(number(around, "around of surfaceAt"));
    const direction = rotateAbout(middle.out, middle.along, turn);
    return new Point(middle.position, direction).lifted(skinDistance(this.shape, middle.share, direction));
  }

  /** @internal The same tube with some things changed. */
  changed(to: { name?: string; path?: Path; shape?: TubeShape; resting?: Resting }): Tube {
    return new Tube(
      to.name ?? this.name,
      to.path ?? this.#path,
      to.shape ?? this.shape,
      this.origin,
      to.resting ?? this.resting,
    );
  }
}

/**
 * A tube swept along a path, or through a list of points.
 * @example tube("horn", [base, middle, onHead({ azimuth: 90, elevation: 60, lift: 80 })], { radius: [12, 8, 3] })
 */
export function tube(
  name: string,
  path: Path | { readonly path: Path } | readonly PointLike[],
  shape: TubeOptions = {},
): Tube {
  text(name, "the name of the tube");
  options(shape, `tube "${name}"`, optionNames);
  return tubeOf(name, path, shape);
}

/** @internal A tube whose options are checked already. */
export function tubeOf(
  name: string,
  path: Path | { readonly path: Path } | readonly PointLike[],
  shape: TubeOptions,
): Tube {
  const given = toPath(path, `tube "${name}"`);
  const section = toSection(shape.section, name);
  const { path: line, addedAtStart } = drawnInto(name, given, shape);
  const byPoint = Array.isArray(path) && Array.isArray(shape.radius) && shape.radius.length === path.length;
  const preset = section.kind === "circle" ? 5 : 1;
  const radius = toRadius(shape.radius ?? preset, name, line, byPoint ? addedAtStart : undefined);
  const hollow = shape.hollow && toHollow(shape.hollow, radius, name);
  const upAtPoints = shape.facing && upsOf(shape.facing, line, name);
  return new Tube(
    name,
    line,
    {
      path: line.data,
      radius,
      section,
      twist: number(shape.twist ?? 0, `twist of "${name}"`, { least: -36_000, most: 36_000 }),
      ...tipsOf(name, line.closed, radius, shape),
      ...(hollow && { hollow }),
      ...(upAtPoints && { upAtPoints }),
    },
    placeOfCall(),
  );
}

/** The direction of the section's +Y at each point of a path. */
function upsOf(facing: NonNullable<TubeOptions["facing"]>, path: Path, name: string): readonly Vec3[] {
  const { points } = path.data;
  const what = `facing of "${name}"`;
  if (Array.isArray(facing)) {
    const direction = directionOf(facing, what);
    return points.map(() => direction);
  }
  if (oneOf(facing as "out" | "up", what, ["out", "up"]) === "up") return points.map(() => [0, 0, 1]);
  return points.map((position) => path.nearestTo(position).out);
}

/** @param atPointsFrom where the radii belong to the points of the path: the point that the first belongs to */
function toRadius(radius: Radius, name: string, path: Path, atPointsFrom: number | undefined): RadiusData {
  const what = `radius of "${name}"`;
  const checked = (value: unknown) => number(value, what, { above: 0, most: greatestRadius });
  if (typeof radius === "number") return { shares: [0], radii: [checked(radius)] };
  if (typeof radius === "function") {
    const steps = Math.round(clamp(path.length / radiusSpacing, radiusSteps.least, radiusSteps.most));
    const shares = Array.from({ length: steps + 1 }, (_, i) => i / steps);
    return { shares, radii: shares.map((share) => checked(radius(share))) };
  }
  if (!Array.isArray(radius) || radius.length === 0) {
    throw designError({
      id: "not-a-radius",
      text: `${what} is ${shown(radius)}`,
      suggestion: "give mm, a list of mm, or a function of the share of the length",
    });
  }
  const radii = radius.map(checked);
  if (radii.length === 1) return { shares: [0], radii };
  const last = radii.length - 1;
  if (atPointsFrom === undefined) return { shares: radii.map((_, i) => i / last), radii };
  const curve = curveOf(path.data);
  return { shares: radii.map((_, i) => curve.shareAtPoint(i + atPointsFrom)), radii };
}

function toHollow(
  hollow: NonNullable<TubeOptions["hollow"]>,
  radius: RadiusData,
  name: string,
): TubeShape["hollow"] {
  options(hollow, `hollow of "${name}"`, ["wall", "drain", "drainAt"]);
  const least = Math.min(...radius.radii);
  const wall = number(hollow.wall, `wall of "${name}"`, { above: 0 });
  if (wall >= least) {
    throw designError({
      id: "wall-too-thick",
      text: `wall of "${name}" is ${wall} mm, and its least radius ${least} mm leaves no core`,
      suggestion: `give a wall below ${least} mm, or leave out hollow`,
    });
  }
  return {
    wall,
    drain: number(hollow.drain ?? 0, `drain of "${name}"`, { least: 0, most: 2 * least }),
    drainAt: number(hollow.drainAt ?? 0.5, `drainAt of "${name}"`, { least: 0, most: 1 }),
  };
}
