import type { TriangleMesh } from "./mesh";

/** A body that overlaps itself nowhere: a closed mesh, or the convex hull of points (x, y, z of each in turn). */
export type BodyPiece =
  | { readonly kind: "mesh"; readonly mesh: TriangleMesh }
  | { readonly kind: "hull"; readonly points: Float32Array };
