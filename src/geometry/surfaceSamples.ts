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
  const strips = stripsOf(positions, triangles, spacing);
  let extra = 0;
  for (let t = 0; t < triangleCount; t++) {
    const stripCount = strips.counts[t];
    if (stripCount < 2) continue;
    for (let i = 1; i <= stripCount; i++) extra += pointsOnStrip(strips.shortest[t], i, stripCount, spacing);
  }
  const count = vertexCount + extra;
  const points = new Float32Array(3 * count);
  const normals = new Float32Array(3 * count);
  const areas = new Float32Array(count);
  const triangleOf = new Uint32Array(count);
  points.set(positions);
  let next = vertexCount;
  for (let t = 0; t < triangleCount; t++) {
    const stripCount = strips.counts[t];
    const corner = strips.apexes[t];
    const apex = triangles[3 * t + corner];
    const left = triangles[3 * t + ((corner + 1) % 3)];
    const right = triangles[3 * t + ((corner + 2) % 3)];
    const a = 3 * apex;
    const b = 3 * left;
    const c = 3 * right;
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
    if (stripCount > 1) {
      const k = twice > 0 ? 1 / twice : 0;
      for (let i = 1; i <= stripCount; i++) {
        const onStrip = pointsOnStrip(strips.shortest[t], i, stripCount, spacing);
        const isLast = i === stripCount;
        // On the last strip the triangle's own corners are samples already.
        const parts = isLast ? onStrip + 1 : Math.max(1, onStrip - 1);
        for (let j = 0; j < onStrip; j++) {
          const across = (isLast ? j + 1 : j) / parts;
          const du = (i / stripCount) * (1 - across);
          const dv = (i / stripCount) * across;
          points[3 * next] = positions[a] + (du * ux + dv * vx);
          points[3 * next + 1] = positions[a + 1] + (du * uy + dv * vy);
          points[3 * next + 2] = positions[a + 2] + (du * uz + dv * vz);
          normals[3 * next] = nx * k;
          normals[3 * next + 1] = ny * k;
          normals[3 * next + 2] = nz * k;
          triangleOf[next++] = t;
        }
      }
    }
    const share = twice / 2 / (next - first + 3);
    areas.fill(share, first, next);
    for (let k = 0; k < 3; k++) {
      const vertex = triangles[3 * t + k];
      normals[3 * vertex] += nx;
      normals[3 * vertex + 1] += ny;
      normals[3 * vertex + 2] += nz;
      areas[vertex] += share;
      triangleOf[vertex] = t;
    }
  }
  for (let v = 0; v < vertexCount; v++) {
    const length = Math.sqrt(normals[3 * v] ** 2 + normals[3 * v + 1] ** 2 + normals[3 * v + 2] ** 2);
    if (length > 0) for (let axis = 0; axis < 3; axis++) normals[3 * v + axis] /= length;
  }
  return { count, vertexCount, positions: points, normals, areas, triangles: triangleOf };
}

/** How triangles are cut: into strips from the corner that faces their shortest side. */
interface Strips {
  /** Which of a triangle's corners, 0 to 2. */
  readonly apexes: Uint8Array;
  readonly counts: Uint16Array;
  /** Length of a triangle's shortest side, mm. */
  readonly shortest: Float64Array;
}

/** A mesh of slivers cannot ask for more samples than this along one triangle. */
const mostStrips = 400;

function stripsOf(p: Float32Array, triangles: Uint32Array, spacing: number): Strips {
  const count = triangles.length / 3;
  const apexes = new Uint8Array(count);
  const counts = new Uint16Array(count);
  const shortest = new Float64Array(count);
  for (let t = 0; t < count; t++) {
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const ab = distance(p, a, b);
    const bc = distance(p, b, c);
    const ca = distance(p, c, a);
    counts[t] = Math.min(mostStrips, Math.ceil(Math.max(ab, bc, ca) / spacing));
    if (bc <= ab && bc <= ca) shortest[t] = bc;
    else if (ca <= ab) {
      apexes[t] = 1;
      shortest[t] = ca;
    } else {
      apexes[t] = 2;
      shortest[t] = ab;
    }
  }
  return { apexes, counts, shortest };
}

/** New samples on the i-th line across; at least its two ends, but for the last, whose ends are corners. */
function pointsOnStrip(shortest: number, i: number, count: number, spacing: number): number {
  const parts = Math.max(1, Math.ceil((shortest * i) / count / spacing));
  return i === count ? parts - 1 : parts + 1;
}

const distance = (p: Float32Array, i: number, j: number): number =>
  Math.sqrt((p[i] - p[j]) ** 2 + (p[i + 1] - p[j + 1]) ** 2 + (p[i + 2] - p[j + 2]) ** 2);
