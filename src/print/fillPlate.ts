import { joinedMesh } from "../geometry/joinedMesh";
import type { PackedPlate, PlannedPiece } from "./cuts/piecePlan";
import { extentsOf } from "./mergedMesh";
import { movedPositions, type PlacedPiece, rotationOf } from "./placedPiece";

/** All pieces of a packed plate as one body that stands on it, in the plate's frame. */
export function filledPlate({ pieces: placings }: PackedPlate, pieces: readonly PlannedPiece[]): PlacedPiece {
  const meshes = placings.map((placing) => pieces[placing.piece].mesh);
  const mesh = joinedMesh(
    meshes.map((own, i) => ({ ...own, positions: movedPositions(own.positions, placings[i]) })),
  );
  const partOfTriangle = new Int32Array(mesh.triangles.length / 3);
  let triangle = 0;
  for (const own of meshes) {
    partOfTriangle.set(own.partOfTriangle, triangle);
    triangle += own.partOfTriangle.length;
  }
  const [x, y, z] = extentsOf(mesh.positions);
  return {
    mesh: { ...mesh, partOfTriangle },
    rotation: rotationOf({ tilt: 0, towards: 0, turn: 0 }),
    shift: [0, 0, 0],
    size: [x.most - x.least, y.most - y.least, z.most],
  };
}
