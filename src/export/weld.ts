import type { TriangleMesh } from "../geometry/mesh";
import { weldVertices } from "../geometry/weldVertices";

/**
 * Turns loose corners (nine 32-bit floats a triangle) into a mesh: corners whose three values are the same to the
 * last bit become one vertex. Nothing is moved or dropped.
 */
export function weld(corners: Float32Array): TriangleMesh {
  const { positions, vertexOf } = weldVertices(corners.slice());
  return { positions, triangles: vertexOf };
}
