import type { Vec3 } from "../../geometry/vector";

/** Signed distance to a body, mm, negative inside; it must not grow faster than the way walked. */
export type BodyDistance = (x: number, y: number, z: number) => number;

/** A turn about an axis through a point; right-handed for +1. */
export interface Turning {
  readonly about: Vec3;
  readonly axis: 0 | 1 | 2;
  readonly sign: 1 | -1;
  /** It ends here, degrees. */
  readonly most: number;
}

/** How far points turn before one meets a body. */
export interface FreeAngle {
  /** Degrees; the turn's own end where nothing meets. */
  readonly angle: number;
  /** The point that meets first, and where it does; absent where none does. */
  readonly point?: number;
  readonly at?: Vec3;
}

/** A point meets the body when it is nearer than this, mm. */
const touching = 0.02;
/** Least step where a point slides along the body, rad. */
const leastStep = 0.0005;

/**
 * The greatest angle by which points (x, y, z in turn, mm) can turn before one comes nearer to the body than `allowed`
 * says for it. No step can pass through the body: a point at distance d and at radius r about the axis needs at least
 * d/r radians to reach it (conservative advancement; Mirtich 1996, *Impulse-based dynamic simulation of rigid body
 * systems*, from memory).
 * @param list the points to look at
 * @param allowed for each of `list`: meets where the distance is less than this, mm
 * @param atRest for each of `list` its distance before the turn, where that is known, mm
 */
export function freeAngle(
  points: ArrayLike<number>,
  list: ArrayLike<number>,
  allowed: ArrayLike<number>,
  { about, axis, sign, most }: Turning,
  body: BodyDistance,
  atRest?: ArrayLike<number>,
): FreeAngle {
  const u = (axis + 1) % 3;
  const v = (axis + 2) % 3;
  const turned: [number, number, number] = [0, 0, 0];
  let best = (most * Math.PI) / 180;
  let point: number | undefined;
  let at: Vec3 | undefined;
  for (let k = 0; k < list.length; k++) {
    const p = 3 * list[k];
    const du = points[p + u] - about[u];
    const dv = points[p + v] - about[v];
    const radius = Math.sqrt(du * du + dv * dv);
    // It cannot get there: its first step would lead past what is free already.
    if (atRest && atRest[k] - allowed[k] > touching + best * radius) continue;
    turned[axis] = points[p + axis];
    let angle = 0;
    while (angle < best) {
      const c = Math.cos(angle);
      const s = sign * Math.sin(angle);
      turned[u] = about[u] + du * c - dv * s;
      turned[v] = about[v] + du * s + dv * c;
      const distance = body(turned[0], turned[1], turned[2]) - allowed[k];
      if (distance < touching) {
        best = angle;
        point = list[k];
        at = [turned[0], turned[1], turned[2]];
        break;
      }
      if (radius === 0) break;
      angle += Math.max(leastStep, distance / radius);
    }
  }
  return {
    angle: point === undefined ? most : (best * 180) / Math.PI,
    ...(point !== undefined && { point }),
    ...(at && { at }),
  };
}

/** A point after a turn by `degrees`. */
export function turnedPoint(point: Vec3, { about, axis, sign }: Turning, degrees: number): Vec3 {
  const u = (axis + 1) % 3;
  const v = (axis + 2) % 3;
  const c = Math.cos((degrees * Math.PI) / 180);
  const s = sign * Math.sin((degrees * Math.PI) / 180);
  const turned: [number, number, number] = [point[0], point[1], point[2]];
  turned[u] = about[u] + (point[u] - about[u]) * c - (point[v] - about[v]) * s;
  turned[v] = about[v] + (point[u] - about[u]) * s + (point[v] - about[v]) * c;
  return turned;
}
