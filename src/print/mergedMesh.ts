import type { TriangleMesh } from "../geometry/mesh";
import type { PlacedPiece } from "./placedPiece";

/**
 * A placed piece with one more body on the plate, as one mesh; the body is nobody's part. Where it enters the piece, as
 * necks do, sections count the overlap twice: a few cubic millimetres.
 */
export function withBody(placed: PlacedPiece, body: TriangleMesh): PlacedPiece {
  const { positions, triangles, partOfTriangle } = placed.mesh;
  const before = positions.length / 3;
  const allTriangles = new Uint32Array(triangles.length + body.triangles.length);
  allTriangles.set(triangles);
  for (let i = 0; i < body.triangles.length; i++)
    allTriangles[triangles.length + i] = body.triangles[i] + before;
  const parts = new Int32Array(allTriangles.length / 3).fill(-1);
  parts.set(partOfTriangle);
  const allPositions = new Float32Array(positions.length + body.positions.length);
  allPositions.set(positions);
  allPositions.set(body.positions, positions.length);
  return {
    ...placed,
    mesh: { positions: allPositions, triangles: allTriangles, partOfTriangle: parts },
    size: placed.size.map((extent, axis) => Math.max(extent, extentOf(allPositions, axis))) as unknown as [
      number,
      number,
      number,
    ],
  };
}

function extentOf(positions: Float32Array, axis: number): number {
  let [least, most] = [Infinity, -Infinity];
  for (let i = axis; i < positions.length; i += 3) {
    if (positions[i] < least) least = positions[i];
    if (positions[i] > most) most = positions[i];
  }
  return most - least;
}
