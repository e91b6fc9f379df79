/** A triangle mesh: plain typed arrays, as the kernel, the writers and the renderer all take them. */
export interface TriangleMesh {
  /** x, y, z of each vertex in turn, mm, head frame. */
  readonly positions: Float32Array;
  /** Three vertex indices per triangle, counter-clockwise seen from outside. */
  readonly triangles: Uint32Array;
}

/** A mesh whose triangles know the part of the headpiece that they came from. */
export interface PartMesh extends TriangleMesh {
  /** For each triangle the index of its part in the design's list, or -1 for the head. */
  readonly partOfTriangle: Int32Array;
}
