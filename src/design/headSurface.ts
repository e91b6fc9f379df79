import type { Vec3 } from "../geometry/vector";

/** What the language needs to know of a head; the grown head form of `head` gives it. */
export interface HeadSurface {
  readonly measurements: {
    readonly girth: number;
    readonly length: number;
    readonly breadth: number;
    readonly crownHeight: number;
  };
  readonly landmarks: Readonly<Record<string, Vec3>>;
  readonly lines: Readonly<
    Record<"girthLine" | "sagittalLine" | "coronalLine" | "hairline", readonly Vec3[]>
  >;
  pointAt(place: { azimuth: number; elevation: number; lift?: number }): Vec3;
  normalAt(place: { azimuth: number; elevation: number }): Vec3;
  coordinatesOf(point: Vec3): { azimuth: number; elevation: number; lift: number };
  nearest(point: Vec3): { point: Vec3; normal: Vec3; distance: number };
  lineBetween(from: Vec3, to: Vec3): readonly Vec3[];
  inRegion(region: string, place: { azimuth: number; elevation: number }): boolean;
}
