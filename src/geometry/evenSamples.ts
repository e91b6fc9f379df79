import type { TriangleMesh } from "./mesh";

/** Points spread evenly over a surface, each standing for as much of it as any other. */
export interface EvenSamples {
  readonly count: number;
  /** x, y, z of each in turn. */
  readonly positions: Float32Array;
  /** Unit normal of the triangle that each lies on, in turn. */
  readonly normals: Float32Array;
  /** Part of the surface that each stands for. */
  readonly area: number;
}

/** Steps of an even spread over the square (Roberts 2018, the R2 sequence: powers of the plastic number). */
const plastic = 1.324717957244746;
const [stepU, stepV] = [1 / plastic, 1 / (plastic * plastic)];

/**
 * About `count` points of a mesh, one for each equal share of its area in the order of its triangles (systematic
 * sampling): the same mesh gives the same points, in time that grows with the triangles and the points.
 * @param keep which triangles to sample; all when left out
 */
export function evenSamples(
  { positions: p, triangles }: TriangleMesh,
  count: number,
  keep: (triangle: number) => boolean = () => true,
): EvenSamples {
  const triangleCount = triangles.length / 3;
  const areas = new Float64Array(triangleCount);
  let whole = 0;
  for (let t = 0; t < triangleCount; t++) {
    if (!keep(t)) continue;
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    areas[t] = Math.sqrt(nx * nx + ny * ny + nz * nz) / 2;
    whole += areas[t];
  }
  const positions = new Float32Array(3 * count);
  const normals = new Float32Array(3 * count);
  const step = whole / count;
  let next = step / 2;
  let passed = 0;
  let made = 0;
  let u = 0.5;
  let v = 0.5;
  for (let t = 0; t < triangleCount && made < count; t++) {
    passed += areas[t];
    if (!(passed > next)) continue;
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const k = 1 / (2 * areas[t]);
    const [nx, ny, nz] = [k * (uy * vz - uz * vy), k * (uz * vx - ux * vz), k * (ux * vy - uy * vx)];
    for (; passed > next && made < count; next += step) {
      u = (u + stepU) % 1;
      v = (v + stepV) % 1;
      // The square folded over its diagonal.
      const [s, r] = u + v > 1 ? [1 - u, 1 - v] : [u, v];
      positions[3 * made] = p[a] + s * ux + r * vx;
      positions[3 * made + 1] = p[a + 1] + s * uy + r * vy;
      positions[3 * made + 2] = p[a + 2] + s * uz + r * vz;
      normals[3 * made] = nx;
      normals[3 * made + 1] = ny;
      normals[3 * made + 2] = nz;
      made++;
    }
  }
  return {
    count: made,
    positions: positions.slice(0, 3 * made),
    normals: normals.slice(0, 3 * made),
    area: step,
  };
}
