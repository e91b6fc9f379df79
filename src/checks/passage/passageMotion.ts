import { add, addScaled, anyPerpendicular, cross, normalize, scale, type Vec3 } from "../../geometry/vector";

/** A motion that takes a piece off the head, held as it sits. */
export interface Slide {
  readonly kind: "slide";
  /** Unit vector, head frame. */
  readonly direction: Vec3;
}

/** A turn that takes a piece off the head, right-handed about an axis that lies off the head. */
export interface Hinge {
  readonly kind: "hinge";
  /** A point of the axis, mm. */
  readonly origin: Vec3;
  /** Unit vector. */
  readonly axis: Vec3;
  /** Unit vector across the axis, from it away from the head. */
  readonly away: Vec3;
  /** How far it turns, rad. */
  readonly turn: number;
}

export type Motion = Slide | Hinge;

/**
 * Points as a motion sees them, three numbers each: two that stay as they are while it runs (`u`, `v`, in true mm
 * across the motion) and one that grows by the same for all (`w`). For a slide `w` is mm along it; for a hinge `u` is
 * mm along the axis, `v` mm from it, `w` the angle from `away`, 0 to 2π.
 */
export function alongMotion(positions: ArrayLike<number>, motion: Motion, into: Float32Array): Float32Array {
  return motion.kind === "slide" ? alongSlide(positions, motion, into) : aboutHinge(positions, motion, into);
}

function alongSlide(positions: ArrayLike<number>, { direction: d }: Slide, into: Float32Array): Float32Array {
  const e = anyPerpendicular(d);
  const f = cross(d, e);
  for (let i = 0; i < into.length; i += 3) {
    const x = positions[i];
    const y = positions[i + 1];
    const z = positions[i + 2];
    into[i] = x * e[0] + y * e[1] + z * e[2];
    into[i + 1] = x * f[0] + y * f[1] + z * f[2];
    into[i + 2] = x * d[0] + y * d[1] + z * d[2];
  }
  return into;
}

function aboutHinge(positions: ArrayLike<number>, hinge: Hinge, into: Float32Array): Float32Array {
  const { origin: o, axis: a, away: e } = hinge;
  const f = cross(a, e);
  for (let i = 0; i < into.length; i += 3) {
    const x = positions[i] - o[0];
    const y = positions[i + 1] - o[1];
    const z = positions[i + 2] - o[2];
    const along = x * e[0] + y * e[1] + z * e[2];
    const across = x * f[0] + y * f[1] + z * f[2];
    const angle = Math.atan2(across, along);
    into[i] = x * a[0] + y * a[1] + z * a[2];
    into[i + 1] = Math.sqrt(along * along + across * across);
    into[i + 2] = angle < 0 ? angle + 2 * Math.PI : angle;
  }
  return into;
}

/** The place with these coordinates along a motion, mm. */
export function placeAlong(motion: Motion, u: number, v: number, w: number): Vec3 {
  if (motion.kind === "slide") {
    const { direction: d } = motion;
    const e = anyPerpendicular(d);
    return addScaled(addScaled(scale(d, w), e, u), cross(d, e), v);
  }
  const { origin, axis, away } = motion;
  const out = addScaled(scale(away, v * Math.cos(w)), cross(axis, away), v * Math.sin(w));
  return add(addScaled(origin, axis, u), out);
}

/** A slide that leaves the upright by `tilt` towards `azimuth` (0 front, 90 right), degrees; over 90 it goes down. */
export function slideTowards(tilt: number, azimuth: number): Slide {
  const t = (tilt * Math.PI) / 180;
  const a = (azimuth * Math.PI) / 180;
  return { kind: "slide", direction: [Math.sin(t) * Math.sin(a), Math.sin(t) * Math.cos(a), Math.cos(t)] };
}

/** Angle of a slide from straight up, and the azimuth that it leaves towards, degrees. */
export function tiltOf([x, y, z]: Vec3): { tilt: number; azimuth: number } {
  const across = Math.hypot(x, y);
  return {
    tilt: (Math.atan2(across, z) * 180) / Math.PI,
    azimuth: across < 1e-9 ? 0 : (Math.atan2(x, y) * 180) / Math.PI,
  };
}

/** The hinge at the front (or back) edge: its axis runs level from side to side through y, z; the other edge rises. */
export function edgeHinge(edge: "front" | "back", y: number, z: number, turn: number): Hinge {
  const forward = edge === "front" ? 1 : -1;
  return { kind: "hinge", origin: [0, y, z], axis: [-forward, 0, 0], away: [0, forward, 0], turn };
}

/** A direction that lies by small angles (rad) beside another. */
export const beside = (d: Vec3, one: number, other: number): Vec3 => {
  const e = anyPerpendicular(d);
  return normalize(addScaled(addScaled(d, e, Math.tan(one)), cross(d, e), Math.tan(other)));
};
