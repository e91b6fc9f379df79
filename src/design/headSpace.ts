import type { Vec3 } from "../geometry/vector";
import { distance } from "../geometry/vector";
import type { GrownHead } from "../head/grownHead";
import { number, options } from "./check";
import { Point, type PointLike, toPoint } from "./point";

/** A place on the head: degrees, and mm off the grown head form. */
export interface HeadCoordinates {
  /** 0 front, 90 the wearer's right, 180 back, -90 left. */
  readonly azimuth: number;
  /** 0 at the girth, 90 at the crown, negative below. */
  readonly elevation: number;
  /** Distance off the head form grown by ease and hair, mm; 0 unless given. */
  readonly lift?: number;
}

/** Places on and off the grown head: what paths and points are measured against. */
export class HeadSpace {
  /** @internal */
  protected readonly surface: GrownHead;

  constructor(surface: GrownHead) {
    this.surface = surface;
  }

  /**
   * A point on or off the head.
   * @example head.at({ azimuth: 45, elevation: 20, lift: 10 })
   */
  at(place: HeadCoordinates): Point {
    options(place, "at", ["azimuth", "elevation", "lift"]);
    const azimuth = number(place.azimuth, "azimuth");
    const elevation = number(place.elevation, "elevation", { least: -90, most: 90 });
    const lift = number(place.lift ?? 0, "lift");
    const out = this.surface.normalAt({ azimuth, elevation });
    return new Point(this.surface.pointAt({ azimuth, elevation, lift }), out);
  }

  /**
   * Azimuth, elevation and lift of a point.
   * @example head.coordinatesOf(stem.at(1)).lift
   */
  coordinatesOf(point: PointLike): Required<HeadCoordinates> {
    return this.surface.coordinatesOf(toPoint(point).position);
  }

  /** @internal Direction off the head at a position. */
  outAt(position: Vec3): Vec3 {
    return this.surface.nearest(position).normal;
  }

  /** @internal The shortest line over the surface between two places. */
  surfaceLine(from: HeadCoordinates, to: HeadCoordinates): readonly HeadCoordinates[] {
    return this.surface.lineBetween(from, to).coordinates;
  }

  /** @internal The point that lies further up the head by a length along the surface, its lift kept. */
  raise(point: Point, by: number): Point {
    const { azimuth, elevation, lift } = this.coordinatesOf(point);
    const step = 0.5 * Math.sign(by);
    let walked = 0;
    let at = elevation;
    let here = this.surface.pointAt({ azimuth, elevation, lift: 0 });
    while (walked < Math.abs(by) && Math.abs(at + step) <= 90) {
      const next = this.surface.pointAt({ azimuth, elevation: at + step, lift: 0 });
      const stride = distance(here, next);
      const share = Math.min(1, (Math.abs(by) - walked) / stride);
      at += step * share;
      walked += stride;
      here = next;
    }
    return this.at({ azimuth, elevation: at, lift });
  }
}
