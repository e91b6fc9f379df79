import type { Vec2, Vec3 } from "./vector";

/**
 * A tube as plain data: what the design language gives out and what the sweep takes in. Nothing here
 * is a function or a class, so that it passes between processes and keys a cache by its content.
 */
export interface TubeShape {
  readonly path: PathData;
  readonly radius: RadiusData;
  readonly section: SectionData;
  /** Turn of the section about the path from start to end, degrees. */
  readonly twist: number;
  /** How the ends finish. A closed path has none. */
  readonly startTip: Tip;
  readonly endTip: Tip;
  readonly hollow?: Hollow;
  /**
   * Where given, the section's +Y axis is kept as near to these directions as the path allows (one per
   * path point, interpolated between): a strap lies flat on the head. Else the frame is
   * rotation-minimising.
   */
  readonly upAtPoints?: readonly Vec3[];
}

/** A spline: `through` passes its points (centripetal Catmull-Rom), `pulled` is drawn by them (cubic B-spline). */
export interface PathData {
  readonly kind: "through" | "pulled";
  readonly points: readonly Vec3[];
  readonly closed: boolean;
}

/**
 * Radius over the share of the path's length, monotone between knots (Fritsch-Carlson cubic, so that it never
 * overshoots; exactly linear through knots on a line). One knot: constant. Shares ascend from 0 to 1.
 */
export interface RadiusData {
  readonly shares: readonly number[];
  /** mm */
  readonly radii: readonly number[];
}

/**
 * The swept outline. An outline is one closed polygon, counter-clockwise, in units of the radius (a point at
 * distance 1 lies one radius from the path), with the path at [0, 0]; it need not be convex.
 */
export type SectionData =
  | { readonly kind: "circle" }
  | { readonly kind: "outline"; readonly points: readonly Vec2[] };

/**
 * How a tube ends. `flat` and `round` (a half ball beyond the path's end) keep the radius; `point` narrows over
 * `length` to a ball of `radius`; `flare` widens over `length` to `radius` and ends flat; `bulb` ends in a ball
 * of `radius` about the path's end. mm.
 */
export type Tip =
  | { readonly kind: "flat" }
  | { readonly kind: "round" }
  | { readonly kind: "point"; readonly radius: number; readonly length: number }
  | { readonly kind: "flare"; readonly radius: number; readonly length: number }
  | { readonly kind: "bulb"; readonly radius: number };

/** A tube with an empty core. `drain`: diameter of a hole to the outside at the share `drainAt`; 0 for none. mm. */
export interface Hollow {
  readonly wall: number;
  readonly drain: number;
  readonly drainAt: number;
}
