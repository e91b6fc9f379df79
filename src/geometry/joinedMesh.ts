import type { TriangleMesh } from "./mesh";

/** Meshes one after the other as one, each with its own vertices: nothing is united. */
export function joinedMesh(meshes: readonly TriangleMesh[]): TriangleMesh {
  const positions = new Float32Array(meshes.reduce((sum, mesh) => sum + mesh.positions.length, 0));
  const triangles = new Uint32Array(meshes.reduce((sum, mesh) => sum + mesh.triangles.length, 0));
  let [coordinate, corner] = [0, 0];
  for (const mesh of meshes) {
    positions.set(mesh.positions, coordinate);
    const first = coordinate / 3;
    for (let i = 0; i < mesh.triangles.length; i++) triangles[corner + i] = mesh.triangles[i] + first;
    coordinate += mesh.positions.length;
    corner += mesh.triangles.length;
  }
  return { positions, triangles };
}
