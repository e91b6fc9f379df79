import type { TriangleMesh } from "./mesh";

/** Points of a surface that stand for all of it: its vertices, and more inside triangles that are large. */
export interface SurfaceSamples {
  readonly count: number;
  /** The first samples are the mesh's vertices, in its order: so many. */
  readonly vertexCount: number;
  /** x, y, z of each in turn, mm. */
  readonly positions: Float32Array;
  /** Outward unit normal of each in turn; of a vertex the mean of its triangles', by area. */
  readonly normals: Float32Array;
  /** Part of the surface that each stands for, mm²; together the whole surface. */
  readonly areas: Float32Array;
  /** A triangle that each lies on. */
  readonly triangles: Uint32Array;
}

/**
 * Samples a mesh so that no point of it is farther than about `spacing` (mm) from a sample. A triangle whose longest
 * side is more than `spacing` is cut into strips along its shortest side, and these across.
 */
export function surfaceSamples({ positions, triangles }: TriangleMesh, spacing: number): SurfaceSamples {
  const vertexCount = positions.length / 3;
  const triangleCount = triangles.length / 3;
  let extra = 0;
  for (let t = 0; t < triangleCount; t++) {
    const strips = stripsOf(positions, triangles, t, spacing);
    if (strips.count < 2) continue;
    for (let i = 1; i <= strips.count; i++) extra += pointsOnStrip(strips, i, spacing);
  }
  const count = vertexCount + extra;
  const points = new Float32Array(3 * count);
  const normals = new Float32Array(3 * count);
  const areas = new Float32Array(count);
  const triangleOf = new Uint32Array(count);
  points.set(positions);
  let next = vertexCount;
  for (let t = 0; t < triangleCount; t++) {
    const strips = stripsOf(positions, triangles, t, spacing);
    const { apex, left, right } = strips;
    const [a, b, c] = [3 * apex, 3 * left, 3 * right];
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const nx = uy * vz - uz * vy;
    const ny = uz * vx - ux * vz;
    const nz = ux * vy - uy * vx;
    const twice = Math.sqrt(nx * nx + ny * ny + nz * nz);
    const first = next;
    if (strips.count > 1) {
      const k = twice > 0 ? 1 / twice : 0;
      for (let i = 1; i <= strips.count; i++) {
        const onStrip = pointsOnStrip(strips, i, spacing);
        const isLast = i === strips.count;
        // On the last strip the triangle's own corners are samples already.
        const parts = isLast ? onStrip + 1 : Math.max(1, onStrip - 1);
        for (let j = 0; j < onStrip; j++) {
          const across = (isLast ? j + 1 : j) / parts;
          const du = (i / strips.count) * (1 - across);
          const dv = (i / strips.count) * across;
          for (let axis = 0; axis < 3; axis++) {
            const along = axis === 0 ? du * ux + dv * vx : axis === 1 ? du * uy + dv * vy : du * uz + dv * vz;
            points[3 * next + axis] = positions[a + axis] + along;
          }
          normals[3 * next] = nx * k;
          normals[3 * next + 1] = ny * k;
          normals[3 * next + 2] = nz * k;
          triangleOf[next++] = t;
        }
      }
    }
    const share = twice / 2 / (next - first + 3);
    areas.fill(share, first, next);
    for (const vertex of [apex, left, right]) {
      normals[3 * vertex] += nx;
      normals[3 * vertex + 1] += ny;
      normals[3 * vertex + 2] += nz;
      areas[vertex] += share;
      triangleOf[vertex] = t;
    }
  }
  for (let v = 0; v < vertexCount; v++) {
    const length = Math.hypot(normals[3 * v], normals[3 * v + 1], normals[3 * v + 2]);
    if (length > 0) for (let axis = 0; axis < 3; axis++) normals[3 * v + axis] /= length;
  }
  return { count, vertexCount, positions: points, normals, areas, triangles: triangleOf };
}

/** How a triangle is cut: into strips from the corner that faces its shortest side. */
interface Strips {
  readonly apex: number;
  readonly left: number;
  readonly right: number;
  readonly count: number;
  /** Length of the shortest side, mm. */
  readonly shortest: number;
}

/** A mesh of slivers cannot ask for more samples than this along one triangle. */
const mostStrips = 400;

function stripsOf(p: Float32Array, triangles: Uint32Array, t: number, spacing: number): Strips {
  const [a, b, c] = [triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2]];
  const ab = distance(p, a, b);
  const bc = distance(p, b, c);
  const ca = distance(p, c, a);
  const count = Math.min(mostStrips, Math.ceil(Math.max(ab, bc, ca) / spacing));
  if (bc <= ab && bc <= ca) return { apex: a, left: b, right: c, count, shortest: bc };
  if (ca <= ab) return { apex: b, left: c, right: a, count, shortest: ca };
  return { apex: c, left: a, right: b, count, shortest: ab };
}

/** New samples on the i-th line across; at least its two ends, but for the last, whose ends are corners. */
function pointsOnStrip({ count, shortest }: Strips, i: number, spacing: number): number {
  const parts = Math.max(1, Math.ceil((shortest * i) / count / spacing));
  return i === count ? parts - 1 : parts + 1;
}

const distance = (p: Float32Array, i: number, j: number): number =>
  Math.hypot(p[3 * i] - p[3 * j], p[3 * i + 1] - p[3 * j + 1], p[3 * i + 2] - p[3 * j + 2]);
