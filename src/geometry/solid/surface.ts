import type { BodyPiece } from "../bodyPiece";
import { joinedMesh } from "../joinedMesh";
import type { TriangleMesh } from "../mesh";
import { solidOfPiece } from "./body";
import { positionsOf } from "./finish";
import type { Kernel } from "./kernel";

/** Pieces of one body as one mesh to be looked at: side by side, nothing united. */
export function surfaceOfPieces(kernel: Kernel, pieces: readonly BodyPiece[]): TriangleMesh {
  const meshes = pieces.map((piece) => (piece.kind === "mesh" ? piece.mesh : hull(kernel, piece)));
  return meshes.length === 1 ? meshes[0] : joinedMesh(meshes);
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
