import type { Vec3 } from "../geometry/vector";
import { add, addScaled, cross, distance, lerp, normalize, radians, rotateAbout } from "../geometry/vector";
import { number, options, shown } from "./check";
import { designError } from "./error";

/**
 * A place in the head frame: millimetres, +X the wearer's right, +Y forward, +Z up, origin midway between the
 * tragions. A design may write `[x, y, z]` wherever a point is asked for.
 */
export class Point {
  readonly x: number;
  readonly y: number;
  readonly z: number;
  /** Unit direction off the head here (straight out where the point was given in space). */
  readonly out: Vec3;

  constructor(position: Vec3, out: Vec3) {
    [this.x, this.y, this.z] = position;
    this.out = out;
  }

  /** The point as `[x, y, z]`. */
  get position(): Vec3 {
    return [this.x, this.y, this.z];
  }

  /**
   * The point shifted in the head frame, mm.
   * @example head.landmarks.crown.moved({ up: 40, forward: 10 })
   */
  moved(by: { right?: number; forward?: number; up?: number }): Point {
    options(by, "moved", ["right", "forward", "up"]);
    const shift: Vec3 = [
      number(by.right ?? 0, "right of moved"),
      number(by.forward ?? 0, "forward of moved"),
      number(by.up ?? 0, "up of moved"),
    ];
    return new Point(add(this.position, shift), this.out);
  }

  /**
   * The point shifted off the head, mm; negative: towards it.
   * @example onHead({ azimuth: 20, elevation: 30 }).lifted(12)
   */
  lifted(lift: number): Point {
    return new Point(addScaled(this.position, this.out, number(lift, "lift")), this.out);
  }

  /**
   * The point part of the way to another: share 0 here, 1 there.
   * @example brow.towards(head.landmarks.crown, 0.5)
   */
  towards(other: PointLike, share: number): Point {
    const there = toPoint(other);
    const k = number(share, "share");
    return new Point(
      lerp(this.position, there.position, k),
      normalize(lerp(this.out, there.out, k), this.out),
    );
  }

  /**
   * Straight distance to another point, mm.
   * @example brow.distanceTo(head.landmarks.crown)
   */
  distanceTo(other: PointLike): number {
    return distance(this.position, toPoint(other).position);
  }

  /**
   * The point on the other side of the head.
   * @example onHead({ azimuth: 40, elevation: 20 }).mirrored()
   */
  mirrored(): Point {
    return new Point([-this.x, this.y, this.z], [-this.out[0], this.out[1], this.out[2]]);
  }

  /**
   * The point turned about the head's upright axis, degrees, to the wearer's right from the front.
   * @example brow.turned(30)
   */
  turned(angle: number): Point {
    const by = -radians(number(angle, "angle"));
    return new Point(rotateAbout(this.position, [0, 0, 1], by), rotateAbout(this.out, [0, 0, 1], by));
  }
}

/** A point on a path, which also knows the path's direction there. */
export class PathPoint extends Point {
  /** Unit direction of the path. */
  readonly along: Vec3;
  /** Share of the path's length, 0 to 1. */
  readonly share: number;

  constructor(position: Vec3, out: Vec3, along: Vec3, share: number) {
    super(position, out);
    this.along = along;
    this.share = share;
  }

  /** Unit direction across the path, square to `along` and `out`. */
  get side(): Vec3 {
    return cross(this.along, this.out);
  }

  /**
   * The point shifted in the path's own frame, mm: along it, off the head, to its side.
   * @example stem.at(0.4).offset({ out: 15, along: 5 })
   */
  offset(by: { along?: number; out?: number; side?: number }): Point {
    options(by, "offset", ["along", "out", "side"]);
    const along = addScaled(this.position, this.along, number(by.along ?? 0, "along of offset"));
    const out = addScaled(along, this.out, number(by.out ?? 0, "out of offset"));
    return new Point(addScaled(out, this.side, number(by.side ?? 0, "side of offset")), this.out);
  }
}

/** A point, or its `[x, y, z]` in the head frame, mm. */
export type PointLike = Point | Vec3;

/** Any way to write a point as a `Point`; an error for anything else. */
export function toPoint(value: PointLike, what = "a point"): Point {
  if (value instanceof Point) return value;
  if (Array.isArray(value) && value.length === 3) {
    const [x, y, z] = value.map((coordinate, axis) => number(coordinate, `${"xyz"[axis]} of ${what}`));
    return new Point([x, y, z], normalize([x, y, z]));
  }
  throw designError({
    id: "not-a-point",
    text: `${what} is ${shown(value)}, not a point`,
    suggestion: "give onHead({ azimuth, elevation, lift }), a point of a path, or [x, y, z] in mm",
  });
}
