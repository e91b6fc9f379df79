import type { Vec3 } from "../geometry/vector";
import type { GrownHead } from "../head/grownHead";
import { Arc } from "./arc";
import { number, options } from "./check";
import { Point, type PointLike, toPoint } from "./point";
import { azimuthAlong, elevationAlong, girthLengths } from "./surfaceArcs";

/** A place on the head: degrees, and mm off the grown head form. */
export interface HeadCoordinates {
  /** 0 front, 90 the wearer's right, 180 back, -90 left. */
  readonly azimuth: number;
  /** 0 at the girth, 90 at the crown, negative below. */
  readonly elevation: number;
  /** Distance off the head form grown by ease and hair, mm; 0 unless given. */
  readonly lift?: number;
}

/** A place on the head as a design gives it: angles in degrees, or arcs in mm along the surface. */
export interface HeadPlace {
  /** 0 front, 90 the wearer's right, 180 back, -90 left; or an arc along the girth to the right. */
  readonly azimuth: number | Arc;
  /** 0 at the girth, 90 at the crown, negative below; or an arc up from the girth. */
  readonly elevation: number | Arc;
  /** Distance off the head form grown by ease and hair, mm; 0 unless given. */
  readonly lift?: number;
}

/** Places on and off the grown head: what paths and points are measured against. */
export class HeadSpace {
  /** @internal */
  protected readonly surface: GrownHead;
  #girthLengths: Float64Array | undefined;

  constructor(surface: GrownHead) {
    this.surface = surface;
  }

  /**
   * A point on or off the head.
   * @example head.at({ azimuth: 45, elevation: 20, lift: 10 })
   */
  at(place: HeadPlace): Point {
    options(place, "at", ["azimuth", "elevation", "lift"]);
    const azimuth =
      place.azimuth instanceof Arc
        ? azimuthAlong(this.girthLengths, place.azimuth.length)
        : number(place.azimuth, "azimuth");
    const elevation =
      place.elevation instanceof Arc
        ? elevationAlong(this.surface, azimuth, 0, place.elevation.length)
        : number(place.elevation, "elevation", { least: -90, most: 90 });
    const lift = number(place.lift ?? 0, "lift");
    const out = this.surface.normalAt({ azimuth, elevation });
    return new Point(this.surface.pointAt({ azimuth, elevation, lift }), out);
  }

  /** @internal Lengths along the girth, mm: see `surfaceArcs.ts`. */
  protected get girthLengths(): Float64Array {
    this.#girthLengths ??= girthLengths(this.surface);
    return this.#girthLengths;
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
    return this.at({ azimuth, elevation: elevationAlong(this.surface, azimuth, elevation, by), lift });
  }
}
