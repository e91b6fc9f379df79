import { convexOutline, enclosingCircle } from "../plate/footprint";

/** The small-parts cylinder, mm: a slanted floor from 25.4 to 57.1 deep (16 CFR 1501.4; Canada SOR/2011-17, Schedule 1). */
export const smallPartsCylinder = { diameter: 31.7, shallow: 25.4, deep: 57.1 } as const;

/** More than rounding, mm. */
const slack = 1e-6;

/** Turns of the slanted floor that are tried. */
const turns = 12;

/**
 * Directions over the half sphere, about 12° apart. Fibonacci's spiral spreads them evenly (Swinbank & Purser 2006,
 * Q. J. R. Meteorol. Soc. 132).
 */
const spreadAxes = Array.from({ length: 120 }, (_, i) => {
  const up = 1 - (i + 0.5) / 120;
  const turn = i * Math.PI * (3 - Math.sqrt(5));
  const level = Math.sqrt(1 - up * up);
  return [level * Math.cos(turn), level * Math.sin(turn), up];
});

/**
 * Whether a body fits wholly into the small-parts cylinder however it is turned, so that a small child could choke on
 * it. Tried along its longest extent, along the axes of the frame and over axes about 12° apart, at turns of 30°, with
 * the smallest circle round the body on each axis; a body
 * that fits only by a hair may be missed. `points`: x, y, z of points on its hull in turn, mm.
 */
export function fitsSmallPartsCylinder(points: ArrayLike<number>): boolean {
  const count = points.length / 3;
  if (count === 0) return false;
  const { diameter, deep } = smallPartsCylinder;
  if (largestExtent(points) > Math.hypot(diameter, deep)) return false;
  const x = new Float64Array(count);
  const y = new Float64Array(count);
  const z = new Float64Array(count);
  for (const axis of [longestAxis(points), [1, 0, 0], [0, 1, 0], [0, 0, 1], ...spreadAxes]) {
    const side = Math.abs(axis[0]) < 0.7 ? [0, -axis[2], axis[1]] : [axis[2], 0, -axis[0]];
    const k = 1 / Math.hypot(side[0], side[1], side[2]);
    const u = side.map((value) => value * k);
    const v = [
      axis[1] * u[2] - axis[2] * u[1],
      axis[2] * u[0] - axis[0] * u[2],
      axis[0] * u[1] - axis[1] * u[0],
    ];
    // Wider or longer than the cylinder: the commonest, and told without the circle.
    if (along(points, u, x) > diameter + slack || along(points, v, y) > diameter + slack) continue;
    if (along(points, axis, z) > deep + slack) continue;
    if (fitsUpright(x, y, z)) return true;
  }
  return false;
}

/** Places of points along an axis into `into`. @returns how far they reach from the first to the last, mm */
function along(points: ArrayLike<number>, [ax, ay, az]: readonly number[], into: Float64Array): number {
  let least = Infinity;
  let most = -Infinity;
  for (let p = 0; p < into.length; p++) {
    const place = points[3 * p] * ax + points[3 * p + 1] * ay + points[3 * p + 2] * az;
    into[p] = place;
    if (place < least) least = place;
    if (place > most) most = place;
  }
  return most - least;
}

/** Whether points fit into the upright cylinder, either way up, at one of the turns of its floor. */
function fitsUpright(x: Float64Array, y: Float64Array, z: Float64Array): boolean {
  const { diameter, shallow, deep } = smallPartsCylinder;
  const circle = enclosingCircle(convexOutline(x, y));
  if (circle.diameter > diameter) return false;
  const [cx, cy] = circle.centre;
  for (const way of [1, -1]) {
    let top = -Infinity;
    for (const height of z) top = Math.max(top, way * height);
    for (let k = 0; k < turns; k++) {
      const turn = (2 * Math.PI * k) / turns;
      const [c, s] = [Math.cos(turn), Math.sin(turn)];
      let fits = true;
      for (let i = 0; i < z.length && fits; i++) {
        const across = ((x[i] - cx) * c + (y[i] - cy) * s) / diameter;
        const floor = (shallow + deep) / 2 + across * (deep - shallow);
        fits = top - way * z[i] <= floor;
      }
      if (fits) return true;
    }
  }
  return false;
}

/** The way from one end of a body to the other: from the point farthest from its first to the one farthest from that. */
function longestAxis(points: ArrayLike<number>): number[] {
  const farthestFrom = (from: number): number => {
    let best = 0;
    let reach = -1;
    for (let i = 0; i < points.length; i += 3) {
      const dx = points[i] - points[from];
      const dy = points[i + 1] - points[from + 1];
      const dz = points[i + 2] - points[from + 2];
      const away2 = dx * dx + dy * dy + dz * dz;
      if (away2 <= reach) continue;
      reach = away2;
      best = i;
    }
    return best;
  };
  const one = farthestFrom(0);
  const other = farthestFrom(one);
  const way = [0, 1, 2].map((axis) => points[other + axis] - points[one + axis]);
  const length = Math.hypot(way[0], way[1], way[2]);
  return length > 0 ? way.map((value) => value / length) : [0, 0, 1];
}

function largestExtent(points: ArrayLike<number>): number {
  let most = 0;
  for (let axis = 0; axis < 3; axis++) {
    let [least, greatest] = [Infinity, -Infinity];
    for (let i = axis; i < points.length; i += 3) {
      least = Math.min(least, points[i]);
      greatest = Math.max(greatest, points[i]);
    }
    most = Math.max(most, greatest - least);
  }
  return most;
}
