import type { BodyPiece } from "../bodyPiece";
import type { TriangleMesh } from "../mesh";
import type { Kernel } from "./kernel";

/** Pieces of one body as one mesh to be looked at: side by side, nothing united. */
export function surfaceOfPieces(kernel: Kernel, pieces: readonly BodyPiece[]): TriangleMesh {
  const meshes = pieces.map((piece) => (piece.kind === "mesh" ? piece.mesh : hull(kernel, piece.points)));
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

function hull({ Manifold }: Kernel, points: Float32Array): TriangleMesh {
  const solid = Manifold.hull(
    Array.from({ length: points.length / 3 }, (_, i): [number, number, number] => [
      points[3 * i],
      points[3 * i + 1],
      points[3 * i + 2],
    ]),
  );
  try {
    const { vertProperties, triVerts, numProp } = solid.getMesh();
    const positions = new Float32Array((vertProperties.length / numProp) * 3);
    for (let v = 0; 3 * v < positions.length; v++) {
      positions.set(vertProperties.subarray(v * numProp, v * numProp + 3), 3 * v);
    }
    return { positions, triangles: Uint32Array.from(triVerts) };
  } finally {
    solid.delete();
  }
}
