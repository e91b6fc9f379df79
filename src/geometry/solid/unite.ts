import type { Manifold } from "manifold-3d";
import type { PartMesh, TriangleMesh } from "../mesh";
import { solidOfMesh } from "./body";
import { type FinishedMesh, finishMesh } from "./finish";
import { type Kernel, Scope, unionOf } from "./kernel";

/** Less than this is a speck of rounding, mm³. */
const crumbVolume = 0.01;

/**
 * Closed meshes united to one, closed however its vertices are welded.
 * @param name how messages call them
 * @throws BodyError for an open mesh, RangeError when there is none.
 */
export function uniteMeshes(kernel: Kernel, meshes: readonly TriangleMesh[], name: string): FinishedMesh {
  if (meshes.length === 0) throw new RangeError("no mesh to unite");
  const scope = new Scope();
  try {
    const solids = meshes.map((mesh) => scope.hold(solidOfMesh(kernel, mesh, name)));
    return finishMesh(scope.hold(unionOf(kernel, solids)).getMesh(), new Map(), 0, crumbVolume);
  } finally {
    scope.dispose();
  }
}

/**
 * A piece united with what is printed with it. Triangles keep the part that they are of; those of what is added get
 * `addedPart`.
 * @throws BodyError when one of the two is open.
 */
export function uniteWithPiece(
  kernel: Kernel,
  piece: PartMesh,
  added: TriangleMesh,
  addedPart: number,
): PartMesh {
  const scope = new Scope();
  try {
    const { solid, partOfOriginal } = solidOfParts(kernel, piece, scope);
    const other = scope.hold(scope.hold(solidOfMesh(kernel, added, "what is printed with it")).asOriginal());
    partOfOriginal.set(other.originalID(), addedPart);
    const whole = scope.hold(unionOf(kernel, [solid, other]));
    const most = Math.max(addedPart, ...partOfOriginal.values());
    return finishMesh(whole.getMesh(), partOfOriginal, most + 1, crumbVolume).mesh;
  } finally {
    scope.dispose();
  }
}

/** A mesh as one solid whose triangles the kernel tells apart by their part. */
function solidOfParts(
  kernel: Kernel,
  { positions, triangles, partOfTriangle }: PartMesh,
  scope: Scope,
): { solid: Manifold; partOfOriginal: Map<number, number> } {
  const order = Array.from(partOfTriangle.keys()).sort(
    (a, b) => partOfTriangle[a] - partOfTriangle[b] || a - b,
  );
  const parts = [...new Set(order.map((t) => partOfTriangle[t]))];
  const firstId = kernel.Manifold.reserveIDs(parts.length);
  const triVerts = new Uint32Array(triangles.length);
  const runIndex: number[] = [];
  order.forEach((t, i) => {
    if (i === 0 || partOfTriangle[t] !== partOfTriangle[order[i - 1]]) runIndex.push(3 * i);
    triVerts.set(triangles.subarray(3 * t, 3 * t + 3), 3 * i);
  });
  runIndex.push(triangles.length);
  const mesh = new kernel.Mesh({
    numProp: 3,
    vertProperties: positions,
    triVerts,
    runIndex: Uint32Array.from(runIndex),
    runOriginalID: Uint32Array.from(parts, (_, i) => firstId + i),
  });
  return {
    solid: scope.hold(kernel.Manifold.ofMesh(mesh)),
    partOfOriginal: new Map(parts.map((part, i) => [firstId + i, part])),
  };
}
