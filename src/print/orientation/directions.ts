import { normalize, type Vec3 } from "../../geometry/vector";

const golden = Math.PI * (3 - Math.sqrt(5));

/**
 * Directions spread evenly over the whole sphere: levels of equal area, each turned on by the golden angle from the one
 * before (Saff & Kuijlaars 1997, *Distributing many points on a sphere*; from memory). With 500 of them none is farther
 * than about 7° from the nearest.
 */
export function evenDirections(count: number): Vec3[] {
  return Array.from({ length: count }, (_, i): Vec3 => {
    const z = 1 - (2 * i + 1) / count;
    const across = Math.sqrt(Math.max(0, 1 - z * z));
    return [across * Math.cos(golden * i), across * Math.sin(golden * i), z];
  });
}

/** The design's up first, and the other directions along its axes. */
export const axisDirections: readonly Vec3[] = [
  [0, 0, 1],
  [0, 0, -1],
  [1, 0, 0],
  [-1, 0, 0],
  [0, 1, 0],
  [0, -1, 0],
];

/** Angle between two unit vectors, degrees. */
export function angleBetween(a: Vec3, b: Vec3): number {
  // By the chord: the arc cosine loses digits where the angle is small.
  const chord = Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
  return (2 * Math.asin(Math.min(1, chord / 2)) * 180) / Math.PI;
}

/** Six directions around one, each at `step` degrees from it. */
export function directionsAround(up: Vec3, step: number): Vec3[] {
  const [x, y, z] = up;
  // Duff et al. 2017, *Building an orthonormal basis, revisited*.
  const sign = z >= 0 ? 1 : -1;
  const a = -1 / (sign + z);
  const b = x * y * a;
  const u: Vec3 = [1 + sign * x * x * a, sign * b, -sign * x];
  const v: Vec3 = [b, sign + y * y * a, -y];
  const reach = Math.tan((step * Math.PI) / 180);
  return Array.from({ length: 6 }, (_, i): Vec3 => {
    const [c, s] = [reach * Math.cos((i * Math.PI) / 3), reach * Math.sin((i * Math.PI) / 3)];
    return normalize([x + c * u[0] + s * v[0], y + c * u[1] + s * v[1], z + c * u[2] + s * v[2]]);
  });
}
