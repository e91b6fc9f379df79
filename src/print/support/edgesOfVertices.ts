/** The edges of a closed mesh by the vertex that they start from. */
export interface EdgesOfVertices {
  /** First edge of each vertex; one number more than vertices. */
  readonly first: Int32Array;
  /** The vertex to which each edge runs. */
  readonly ends: Int32Array;
}

const kept = new WeakMap<Uint32Array, EdgesOfVertices>();

/**
 * The edges of each vertex, in both directions. They depend on the triangles alone: kept as long as these are, since one
 * piece is looked at in many orientations.
 */
export function edgesOfVertices(triangles: Uint32Array, vertices: number): EdgesOfVertices {
  const known = kept.get(triangles);
  if (known && known.first.length === vertices + 1) return known;
  const first = new Int32Array(vertices + 1);
  for (let i = 0; i < triangles.length; i++) first[triangles[i] + 1]++;
  for (let vertex = 0; vertex < vertices; vertex++) first[vertex + 1] += first[vertex];
  const used = first.slice();
  const ends = new Int32Array(triangles.length);
  // Each edge belongs to two triangles that follow it in opposite directions: following them gives both.
  for (let t = 0; t < triangles.length; t += 3) {
    ends[used[triangles[t]]++] = triangles[t + 1];
    ends[used[triangles[t + 1]]++] = triangles[t + 2];
    ends[used[triangles[t + 2]]++] = triangles[t];
  }
  const edges = { first, ends };
  kept.set(triangles, edges);
  return edges;
}
