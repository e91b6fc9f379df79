import { alone, join, rootOf } from "../disjointSets";
import type { TriangleMesh } from "../mesh";

/** The connected shells of a mesh. */
export interface Components {
  /** For each triangle the number of its shell. */
  readonly ofTriangle: Int32Array;
  /** Signed volume of each shell, mm³: negative for a void. */
  readonly volumes: Float64Array;
  readonly triangleCounts: Int32Array;
}

/** Finds the shells of a mesh (vertices joined by triangles) and the signed volume of each. */
export function componentsOf({ positions, triangles }: TriangleMesh): Components {
  const parent = alone(positions.length / 3);
  for (let i = 0; i < triangles.length; i += 3) {
    join(parent, triangles[i], triangles[i + 1]);
    join(parent, triangles[i], triangles[i + 2]);
  }
  const numberOfRoot = new Int32Array(parent.length).fill(-1);
  const ofTriangle = new Int32Array(triangles.length / 3);
  let count = 0;
  for (let t = 0; t < ofTriangle.length; t++) {
    const root = rootOf(parent, triangles[3 * t]);
    if (numberOfRoot[root] < 0) numberOfRoot[root] = count++;
    ofTriangle[t] = numberOfRoot[root];
  }
  const volumes = new Float64Array(count);
  const triangleCounts = new Int32Array(count);
  for (let t = 0; t < ofTriangle.length; t++) {
    volumes[ofTriangle[t]] += tetrahedron(positions, triangles, 3 * t);
    triangleCounts[ofTriangle[t]]++;
  }
  return { ofTriangle, volumes, triangleCounts };
}

/** Signed volume between a triangle and the origin. */
function tetrahedron(p: Float32Array, triangles: Uint32Array, at: number): number {
  const a = 3 * triangles[at];
  const b = 3 * triangles[at + 1];
  const c = 3 * triangles[at + 2];
  return (
    (p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) +
      p[a + 1] * (p[b + 2] * p[c] - p[b] * p[c + 2]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c])) /
    6
  );
}
