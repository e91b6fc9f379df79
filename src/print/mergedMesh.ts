import { joinedMesh } from "../geometry/joinedMesh";
import type { TriangleMesh } from "../geometry/mesh";
import type { PlacedPiece } from "./placedPiece";

/**
 * A placed piece with one more body on the plate, as one mesh; the body is nobody's part. Where it enters the piece, as
 * necks do, sections count the overlap twice: a few cubic millimetres.
 */
export function withBody(placed: PlacedPiece, body: TriangleMesh): PlacedPiece {
  const mesh = joinedMesh([placed.mesh, body]);
  const partOfTriangle = new Int32Array(mesh.triangles.length / 3).fill(-1);
  partOfTriangle.set(placed.mesh.partOfTriangle);
  const extents = extentsOf(mesh.positions);
  const size = (axis: 0 | 1 | 2) => Math.max(placed.size[axis], extents[axis].most - extents[axis].least);
  return { ...placed, mesh: { ...mesh, partOfTriangle }, size: [size(0), size(1), size(2)] };
}

interface Extent {
  readonly least: number;
  readonly most: number;
}

/** Least and most along x, y and z, mm. */
export function extentsOf(positions: Float32Array): [Extent, Extent, Extent] {
  const along = (axis: number): Extent => {
    let [least, most] = [Infinity, -Infinity];
    for (let i = axis; i < positions.length; i += 3) {
      if (positions[i] < least) least = positions[i];
      if (positions[i] > most) most = positions[i];
    }
    return { least, most };
  };
  return [along(0), along(1), along(2)];
}
