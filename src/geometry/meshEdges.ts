import type { TriangleMesh } from "./mesh";

/** The edges of a mesh that two triangles share, each once. */
export interface MeshEdges {
  readonly count: number;
  /** Vertices of each: from the first to the second in the order of its first triangle. */
  readonly vertices: Uint32Array;
  /** Its two triangles, the first that has it in the order of `vertices`, the other in the opposite one. */
  readonly triangles: Uint32Array;
}

/** Pairs each half edge with the opposite one. Edges with one triangle, or more than two, are left out. */
export function meshEdges({ positions, triangles }: TriangleMesh): MeshEdges {
  const vertexCount = positions.length / 3;
  const halves = triangles.length;
  // Half edges by their lesser vertex, so that both of an edge stand in one short list.
  const start = new Uint32Array(vertexCount + 1);
  const from = (half: number): number => triangles[half];
  const to = (half: number): number => triangles[half % 3 === 2 ? half - 2 : half + 1];
  for (let half = 0; half < halves; half++) start[Math.min(from(half), to(half)) + 1]++;
  for (let v = 0; v < vertexCount; v++) start[v + 1] += start[v];
  const filled = start.slice(0, vertexCount);
  const lists = new Uint32Array(halves);
  for (let half = 0; half < halves; half++) lists[filled[Math.min(from(half), to(half))]++] = half;
  const vertices = new Uint32Array(halves);
  const sides = new Uint32Array(halves);
  let count = 0;
  for (let v = 0; v < vertexCount; v++) {
    for (let i = start[v]; i < start[v + 1]; i++) {
      const half = lists[i];
      if (from(half) !== v) continue;
      const far = to(half);
      let opposite = -1;
      let own = 0;
      let opposites = 0;
      for (let j = start[v]; j < start[v + 1]; j++) {
        const other = lists[j];
        if (from(other) === v && to(other) === far) own++;
        else if (to(other) === v && from(other) === far) {
          opposites++;
          opposite = other;
        }
      }
      if (own !== 1 || opposites !== 1) continue;
      vertices[2 * count] = v;
      vertices[2 * count + 1] = far;
      sides[2 * count] = (half / 3) | 0;
      sides[2 * count + 1] = (opposite / 3) | 0;
      count++;
    }
  }
  return { count, vertices: vertices.slice(0, 2 * count), triangles: sides.slice(0, 2 * count) };
}
