import type { BodyPiece } from "../bodyPiece";
import type { TriangleMesh } from "../mesh";
import { solidOfPiece } from "./body";
import { positionsOf } from "./finish";
import type { Kernel } from "./kernel";

/** Pieces of one body as one mesh to be looked at: side by side, nothing united. */
export function surfaceOfPieces(kernel: Kernel, pieces: readonly BodyPiece[]): TriangleMesh {
  const meshes = pieces.map((piece) => (piece.kind === "mesh" ? piece.mesh : hull(kernel, piece)));
  if (meshes.length === 1) return meshes[0];
  const positions = new Float32Array(meshes.reduce((sum, mesh) => sum + mesh.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((sum, mesh) => sum + mesh.triangles.length, 0));
  let [vertex, corner] = [0, 0];
  for (const mesh of meshes) {
    positions.set(mesh.positions, 3 * vertex);
    for (const [i, index] of mesh.triangles.entries()) triangles[corner + i] = index + vertex;
    vertex += mesh.positions.length / 3;
    corner += mesh.triangles.length;
  }
  return { positions, triangles };
}

function hull(kernel: Kernel, piece: BodyPiece): TriangleMesh {
  const solid = solidOfPiece(kernel, piece, "a piece");
  try {
    const mesh = solid.getMesh();
    return { positions: positionsOf(mesh), triangles: Uint32Array.from(mesh.triVerts) };
  } finally {
    solid.delete();
  }
}
