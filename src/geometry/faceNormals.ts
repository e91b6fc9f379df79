import type { TriangleMesh } from "./mesh";

/** Unit normal of each triangle, x, y, z in turn; zero for one without area. */
export function faceNormals({ positions: p, triangles }: TriangleMesh): Float64Array {
  const normals = new Float64Array(triangles.length);
  for (let t = 0; t < triangles.length; t += 3) {
    const a = 3 * triangles[t];
    const b = 3 * triangles[t + 1];
    const c = 3 * triangles[t + 2];
    const ux = p[b] - p[a];
    const uy = p[b + 1] - p[a + 1];
    const uz = p[b + 2] - p[a + 2];
    const vx = p[c] - p[a];
    const vy = p[c + 1] - p[a + 1];
    const vz = p[c + 2] - p[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    if (twice === 0) continue;
    normals[t] = nx / twice;
    normals[t + 1] = ny / twice;
    normals[t + 2] = nz / twice;
  }
  return normals;
}
