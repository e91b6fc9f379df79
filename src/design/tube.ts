import { Curve } from "../geometry/curve";
import type { PathData, RadiusData, TubeShape } from "../geometry/tubeShape";
import type { Place } from "../message";
import { number, options, shown, text } from "./check";
import { designError, placeOfCall } from "./error";
import type { Resting, TubePart } from "./part";
import { type Path, toPath } from "./path";
import type { PathPoint, PointLike } from "./point";
import { type Section, toSection } from "./section";
import { type Tip, withTips } from "./tip";

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

const optionNames = ["radius", "section", "twist", "tip", "startTip", "endTip", "hollow"] as const;
/** Where a radius is given as a function it is read at this many even steps. */
const radiusSteps = 96;
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

  /** The point of its path at a share of the length, 0 to 1. */
  at(share: number): PathPoint {
    return this.path.at(share);
  }

  /** The point of its path at an azimuth about the head. */
  atAzimuth(azimuth: number): PathPoint {
    return this.path.atAzimuth(azimuth);
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
  upAtPoints?: TubeShape["upAtPoints"],
): Tube {
  const line = toPath(path, `tube "${name}"`);
  const section = toSection(shape.section, name);
  const byPoint = Array.isArray(path) && Array.isArray(shape.radius) && shape.radius.length === path.length;
  const radius = toRadius(shape.radius ?? (section.kind === "circle" ? 5 : 1), name, byPoint && line.data);
  const hollow = shape.hollow && toHollow(shape.hollow, radius, name);
  const swept = withTips(name, line, radius, shape);
  return new Tube(
    name,
    swept.path,
    {
      path: swept.path.data,
      radius: swept.radius,
      section,
      twist: number(shape.twist ?? 0, `twist of "${name}"`, { least: -36_000, most: 36_000 }),
      startTip: swept.startTip,
      endTip: swept.endTip,
      ...(hollow && { hollow }),
      ...(upAtPoints && { upAtPoints }),
    },
    placeOfCall(),
  );
}

function toRadius(radius: Radius, name: string, atPointsOf: PathData | false): RadiusData {
  const what = `radius of "${name}"`;
  const checked = (value: unknown) => number(value, what, { above: 0, most: greatestRadius });
  if (typeof radius === "number") return { shares: [0], radii: [checked(radius)] };
  if (typeof radius === "function") {
    const shares = Array.from({ length: radiusSteps + 1 }, (_, i) => i / radiusSteps);
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
  const curve = atPointsOf ? new Curve(atPointsOf) : undefined;
  const last = radii.length - 1;
  return { shares: radii.map((_, i) => (curve ? curve.shareAtPoint(i) : i / last)), radii };
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
