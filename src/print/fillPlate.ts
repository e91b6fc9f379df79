import type { PackedPlate, PlannedPiece } from "./cuts/piecePlan";
import { type PlacedPiece, rotationOf } from "./placedPiece";

/** All pieces of a packed plate as one body that stands on it, in the plate's frame. */
export function filledPlate({ pieces: placings }: PackedPlate, pieces: readonly PlannedPiece[]): PlacedPiece {
  let [vertices, triangles] = [0, 0];
  for (const { piece } of placings) {
    vertices += pieces[piece].mesh.positions.length;
    triangles += pieces[piece].mesh.triangles.length;
  }
  const mesh = {
    positions: new Float32Array(vertices),
    triangles: new Uint32Array(triangles),
    partOfTriangle: new Int32Array(triangles / 3),
  };
  let [vertex, corner] = [0, 0];
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (const { piece, rotation, shift } of placings) {
    const own = pieces[piece].mesh;
    for (let i = 0; i < own.positions.length; i++) {
      const [from, row] = [i - (i % 3), i % 3];
      const value =
        rotation[3 * row] * own.positions[from] +
        rotation[3 * row + 1] * own.positions[from + 1] +
        rotation[3 * row + 2] * own.positions[from + 2] +
        shift[row];
      mesh.positions[vertex + i] = value;
      least[row] = Math.min(least[row], value);
      most[row] = Math.max(most[row], value);
    }
    const first = vertex / 3;
    for (let i = 0; i < own.triangles.length; i++) mesh.triangles[corner + i] = own.triangles[i] + first;
    mesh.partOfTriangle.set(own.partOfTriangle, corner / 3);
    vertex += own.positions.length;
    corner += own.triangles.length;
  }
  return {
    mesh,
    rotation: rotationOf({ tilt: 0, towards: 0, turn: 0 }),
    shift: [0, 0, 0],
    size: [most[0] - least[0], most[1] - least[1], most[2]],
  };
}
