import type { Vec3 } from "../../geometry/vector";

/** Directions in which the width of a seam is looked for: every five degrees. */
const directions = 36;

/** Least width of points that lie about a plane, and the width square to it, mm; undefined without extent. */
export function planeExtent(
  points: readonly Vec3[],
): { least: number; across: number; middle: Vec3 } | undefined {
  const middle = [0, 1, 2].map(
    (axis) => points.reduce((sum, p) => sum + p[axis], 0) / points.length,
  ) as unknown as Vec3;
  const normal = flattestDirection(points, middle);
  const u = Math.abs(normal[0]) < 0.9 ? squared([1, 0, 0], normal) : squared([0, 1, 0], normal);
  const v: Vec3 = [
    normal[1] * u[2] - normal[2] * u[1],
    normal[2] * u[0] - normal[0] * u[2],
    normal[0] * u[1] - normal[1] * u[0],
  ];
  const width = (angle: number): number => {
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    let [least, most] = [Infinity, -Infinity];
    for (const p of points) {
      let k = 0;
      for (let axis = 0; axis < 3; axis++) k += (p[axis] - middle[axis]) * (c * u[axis] + s * v[axis]);
      least = Math.min(least, k);
      most = Math.max(most, k);
    }
    return most - least;
  };
  let least = Infinity;
  let at = 0;
  for (let i = 0; i < directions; i++) {
    const found = width((Math.PI * i) / directions);
    if (found < least) [least, at] = [found, (Math.PI * i) / directions];
  }
  return least > 0 ? { least, across: width(at + Math.PI / 2), middle } : undefined;
}

function squared(v: Vec3, normal: Vec3): Vec3 {
  const k = v[0] * normal[0] + v[1] * normal[1] + v[2] * normal[2];
  const w = [0, 1, 2].map((axis) => v[axis] - k * normal[axis]);
  const size = Math.hypot(w[0], w[1], w[2]);
  return [w[0] / size, w[1] / size, w[2] / size];
}

/**
 * The direction along which points spread least: the axis of the least eigenvalue of their covariance, by Jacobi's
 * rotations (Golub & Van Loan, *Matrix Computations*, 8.5).
 */
function flattestDirection(points: readonly Vec3[], middle: Vec3): Vec3 {
  const a = [0, 1, 2].map((i) =>
    [0, 1, 2].map((j) => points.reduce((sum, p) => sum + (p[i] - middle[i]) * (p[j] - middle[j]), 0)),
  );
  const axes = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  for (let sweep = 0; sweep < 12; sweep++) {
    for (const [i, j] of [
      [0, 1],
      [0, 2],
      [1, 2],
    ]) {
      if (a[i][j] === 0) continue;
      const theta = (a[j][j] - a[i][i]) / (2 * a[i][j]);
      const t = (theta >= 0 ? 1 : -1) / (Math.abs(theta) + Math.hypot(theta, 1));
      const c = 1 / Math.hypot(t, 1);
      const s = t * c;
      for (let k = 0; k < 3; k++) {
        const [x, y] = [a[k][i], a[k][j]];
        [a[k][i], a[k][j]] = [c * x - s * y, s * x + c * y];
      }
      for (let k = 0; k < 3; k++) {
        const [x, y] = [a[i][k], a[j][k]];
        [a[i][k], a[j][k]] = [c * x - s * y, s * x + c * y];
        const [p, q] = [axes[k][i], axes[k][j]];
        [axes[k][i], axes[k][j]] = [c * p - s * q, s * p + c * q];
      }
    }
  }
  const flattest = [0, 1, 2].reduce((best, i) => (a[i][i] < a[best][best] ? i : best), 0);
  return [axes[0][flattest], axes[1][flattest], axes[2][flattest]];
}
