import type { TriangleMesh } from "../../src/geometry/mesh";
import type { Vec3 } from "../../src/geometry/vector";

/** Closed test bodies with known measures. */

export function meshOf(points: readonly Vec3[], triangles: readonly (readonly number[])[]): TriangleMesh {
  const positions = new Float32Array(3 * points.length);
  points.forEach((point, i) => {
    positions.set(point, 3 * i);
  });
  const corners = new Uint32Array(3 * triangles.length);
  triangles.forEach((triangle, i) => {
    corners.set(triangle, 3 * i);
  });
  return { positions, triangles: corners };
}

/** A box from one corner to the other. */
export function box([x0, y0, z0]: Vec3, [x1, y1, z1]: Vec3): TriangleMesh {
  return meshOf(
    [
      [x0, y0, z0],
      [x1, y0, z0],
      [x1, y1, z0],
      [x0, y1, z0],
      [x0, y0, z1],
      [x1, y0, z1],
      [x1, y1, z1],
      [x0, y1, z1],
    ],
    [
      [0, 2, 1],
      [0, 3, 2],
      [4, 5, 6],
      [4, 6, 7],
      [0, 1, 5],
      [0, 5, 4],
      [1, 2, 6],
      [1, 6, 5],
      [2, 3, 7],
      [2, 7, 6],
      [3, 0, 4],
      [3, 4, 7],
    ],
  );
}

/** A profile (radius, height), from the bottom of the axis to its top, turned about the z axis. */
export function turned(profile: readonly (readonly [number, number])[], segments: number): TriangleMesh {
  const points: Vec3[] = [];
  const rings = profile.map(([radius, z]) => {
    if (radius === 0) return [points.push([0, 0, z]) - 1];
    return Array.from({ length: segments }, (_, i) => {
      const angle = (2 * Math.PI * i) / segments;
      return points.push([radius * Math.cos(angle), radius * Math.sin(angle), z]) - 1;
    });
  });
  const triangles: number[][] = [];
  for (let k = 0; k + 1 < rings.length; k++) {
    const a = rings[k];
    const b = rings[k + 1];
    for (let i = 0; i < segments; i++) {
      const j = (i + 1) % segments;
      if (a.length > 1) triangles.push([a[i], a[j], b[b.length > 1 ? j : 0]]);
      if (b.length > 1) triangles.push([a[a.length > 1 ? i : 0], b[j], b[i]]);
    }
  }
  return meshOf(points, triangles);
}

export function ellipsoid(a: number, b: number, c: number, rings: number, segments: number): TriangleMesh {
  const ball = turned(
    Array.from({ length: rings + 1 }, (_, k): [number, number] => {
      const angle = (Math.PI * k) / rings;
      return [k === 0 || k === rings ? 0 : Math.sin(angle), -Math.cos(angle)];
    }),
    segments,
  );
  return moved(ball, [0, 0, 0], [a, b, c]);
}

export function torus(R: number, r: number, around: number, segments: number): TriangleMesh {
  const points: Vec3[] = [];
  const triangles: number[][] = [];
  for (let i = 0; i < around; i++) {
    const u = (2 * Math.PI * i) / around;
    for (let j = 0; j < segments; j++) {
      const v = (2 * Math.PI * j) / segments;
      const radius = R + r * Math.cos(v);
      points.push([radius * Math.cos(u), radius * Math.sin(u), r * Math.sin(v)]);
      const p = (k: number, l: number): number => (k % around) * segments + (l % segments);
      triangles.push([p(i, j), p(i + 1, j), p(i + 1, j + 1)], [p(i, j), p(i + 1, j + 1), p(i, j + 1)]);
    }
  }
  return meshOf(points, triangles);
}

export function moved(mesh: TriangleMesh, by: Vec3, scale: Vec3 = [1, 1, 1]): TriangleMesh {
  return {
    positions: mesh.positions.map((value, i) => value * scale[i % 3] + by[i % 3]),
    triangles: mesh.triangles,
  };
}

export function insideOut(mesh: TriangleMesh): TriangleMesh {
  const triangles = mesh.triangles.slice();
  for (let corner = 0; corner < triangles.length; corner += 3) {
    [triangles[corner], triangles[corner + 1]] = [triangles[corner + 1], triangles[corner]];
  }
  return { positions: mesh.positions, triangles };
}

/** Several meshes as one, none united with another. */
export function together(...meshes: readonly TriangleMesh[]): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const mesh of meshes) {
    const base = positions.length / 3;
    for (const value of mesh.positions) positions.push(value);
    for (const vertex of mesh.triangles) triangles.push(vertex + base);
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}
