import type { TriangleMesh } from "../geometry/mesh";
import { separateCoincidentVertices } from "../geometry/solid/distinctVertices";

/**
 * The mesh as a file of bare triangles needs it: no two vertices in the same place in 32-bit numbers, no −0. Turning a
 * piece rounds its vertices anew, so that what was distinct as designed may coincide on the plate. The mesh given stays
 * as it is.
 * @throws RangeError when there are no triangles, a vertex is missing, or a coordinate is not finite.
 */
export function distinctMesh({ positions, triangles }: TriangleMesh): TriangleMesh {
  if (triangles.length === 0) throw new RangeError("The mesh has no triangles: there is nothing to write.");
  if (positions.length % 3 !== 0 || triangles.length % 3 !== 0) {
    throw new RangeError(
      `${positions.length} coordinates and ${triangles.length} corners: a mesh has three to a vertex and to a triangle.`,
    );
  }
  const vertices = positions.length / 3;
  for (let corner = 0; corner < triangles.length; corner++) {
    if (triangles[corner] >= vertices) {
      throw new RangeError(
        `Triangle ${Math.floor(corner / 3)} uses vertex ${triangles[corner]}: the mesh has ${vertices}.`,
      );
    }
  }
  for (let i = 0; i < positions.length; i++) {
    if (!Number.isFinite(positions[i])) {
      throw new RangeError(`Coordinate ${"xyz"[i % 3]} of vertex ${Math.floor(i / 3)} is ${positions[i]}.`);
    }
  }
  const apart = positions.slice();
  separateCoincidentVertices(apart);
  return { positions: apart, triangles };
}
