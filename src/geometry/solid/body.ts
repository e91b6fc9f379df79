import type { Manifold } from "manifold-3d";
import type { BodyPiece } from "../bodyPiece";
import type { TriangleMesh } from "../mesh";
import { type Kernel, Scope } from "./kernel";

/** One part of the headpiece as the kernel takes it: the union of some pieces less the union of others. */
export interface Body {
  /** Stands for the content: two bodies of one key are the same. */
  readonly key: string;
  /** How messages call it. */
  readonly name: string;
  readonly add: readonly BodyPiece[];
  readonly remove: readonly BodyPiece[];
}

/** Why the kernel would not take a body. */
export class BodyError extends Error {
  readonly body: string;

  constructor(body: string, reason: string) {
    super(reason);
    this.name = "BodyError";
    this.body = body;
  }
}

/** Detail lower than this is smoothed away where pieces of one body meet, mm: below what a print shows. */
const ridgeHeight = 0.06;

/** A body as one solid of its own; the caller frees it. Throws a `BodyError` for an open or empty mesh. */
export function solidOfBody(kernel: Kernel, body: Pick<Body, "name" | "add" | "remove">): Manifold {
  const scope = new Scope();
  try {
    const union = (pieces: readonly BodyPiece[]) => {
      const solids = pieces.map((piece) => scope.hold(solidOfPiece(kernel, piece, body.name)));
      return solids.length === 1 ? solids[0] : scope.hold(kernel.Manifold.union(solids));
    };
    const added = body.add.length > 1 ? smoothed(union(body.add), scope) : union(body.add);
    const whole = body.remove.length === 0 ? added : scope.hold(added.subtract(union(body.remove)));
    if (whole.isEmpty()) throw new BodyError(body.name, `"${body.name}" has no volume`);
    // One identity for the whole body, by which the triangles of the result are traced back to it.
    return whole.asOriginal();
  } finally {
    scope.dispose();
  }
}

/**
 * Pieces of a tube that overlaps itself leave fine ridges where they cross, which cost time in every union after. They
 * are smoothed away only within one identity, so the union takes its own first.
 */
function smoothed(union: Manifold, scope: Scope): Manifold {
  return scope.hold(scope.hold(union.asOriginal()).simplify(ridgeHeight));
}

/** One piece as a solid; the caller frees it. Throws a `BodyError` for an open mesh and for a corner that is no number. */
export function solidOfPiece(kernel: Kernel, piece: BodyPiece, name: string): Manifold {
  if (piece.kind === "mesh") return solidOfMesh(kernel, piece.mesh, name);
  const { points } = piece;
  // The hull of points that are no numbers comes back without complaint.
  if (!points.every(Number.isFinite)) {
    throw new BodyError(name, `"${name}" has a corner that is not a finite number`);
  }
  return kernel.Manifold.hull(
    Array.from({ length: points.length / 3 }, (_, i) => [
      points[3 * i],
      points[3 * i + 1],
      points[3 * i + 2],
    ]),
  );
}

/** A closed mesh as a solid. A mesh that is inside out is turned. */
export function solidOfMesh(kernel: Kernel, mesh: TriangleMesh, name: string): Manifold {
  const make = (triangles: Uint32Array) =>
    kernel.Manifold.ofMesh(
      new kernel.Mesh({ numProp: 3, vertProperties: mesh.positions, triVerts: triangles }),
    );
  let solid: Manifold;
  try {
    solid = make(mesh.triangles);
    if (solid.volume() < 0) {
      solid.delete();
      solid = make(reversed(mesh.triangles));
    }
  } catch (error) {
    throw new BodyError(
      name,
      `"${name}" is not a closed body (${error instanceof Error ? error.message : String(error)})`,
    );
  }
  return solid;
}

function reversed(triangles: Uint32Array): Uint32Array {
  const turned = Uint32Array.from(triangles);
  for (let i = 0; i < turned.length; i += 3) {
    turned[i + 1] = triangles[i + 2];
    turned[i + 2] = triangles[i + 1];
  }
  return turned;
}
