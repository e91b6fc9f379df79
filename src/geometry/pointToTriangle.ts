import type { TriangleMesh } from "./mesh";

/**
 * Distance of a point to one triangle of a mesh, mm (Ericson 2005, Real-Time Collision Detection, 5.1.5): the face where
 * the point's foot lies in it, else the nearest of its sides.
 */
export function pointToTriangle(
  x: number,
  y: number,
  z: number,
  { positions: p, triangles }: TriangleMesh,
  triangle: number,
): number {
  const a = 3 * triangles[3 * triangle];
  const b = 3 * triangles[3 * triangle + 1];
  const c = 3 * triangles[3 * triangle + 2];
  const ux = p[b] - p[a];
  const uy = p[b + 1] - p[a + 1];
  const uz = p[b + 2] - p[a + 2];
  const vx = p[c] - p[a];
  const vy = p[c + 1] - p[a + 1];
  const vz = p[c + 2] - p[a + 2];
  const wx = x - p[a];
  const wy = y - p[a + 1];
  const wz = z - p[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const n2 = nx * nx + ny * ny + nz * nz;
  if (n2 > 0) {
    // Weights of the second and the third corner at the foot of the point.
    const s = (nx * (wy * vz - wz * vy) + ny * (wz * vx - wx * vz) + nz * (wx * vy - wy * vx)) / n2;
    const t = (nx * (uy * wz - uz * wy) + ny * (uz * wx - ux * wz) + nz * (ux * wy - uy * wx)) / n2;
    if (s >= 0 && t >= 0 && s + t <= 1) return Math.abs(nx * wx + ny * wy + nz * wz) / Math.sqrt(n2);
  }
  const nearest = Math.min(
    toSide(wx, wy, wz, ux, uy, uz),
    toSide(wx, wy, wz, vx, vy, vz),
    toSide(wx - ux, wy - uy, wz - uz, vx - ux, vy - uy, vz - uz),
  );
  return Math.sqrt(nearest);
}

/** Squared distance of a point e from the side d, both seen from where the side begins. */
function toSide(ex: number, ey: number, ez: number, dx: number, dy: number, dz: number): number {
  const d2 = dx * dx + dy * dy + dz * dz;
  const share = d2 > 0 ? Math.min(1, Math.max(0, (dx * ex + dy * ey + dz * ez) / d2)) : 0;
  return (ex - share * dx) ** 2 + (ey - share * dy) ** 2 + (ez - share * dz) ** 2;
}
