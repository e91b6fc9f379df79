import type { Manifold } from "manifold-3d";
import type { PartMesh } from "../mesh";
import type { Vec2, Vec3 } from "../vector";
import { positionsOf } from "./finish";
import { type Kernel, Scope, unionOf } from "./kernel";

/** What the kernel does for a piece that is cut: faces with holes, pins added and holes for pins taken. */

/** Triangles of an outline with holes, as indices of all points in turn, counter-clockwise (outlines as such, holes clockwise). */
export function triangulated({ module }: Kernel, loops: readonly (readonly Vec2[])[]): number[] {
  const polygons = loops.map((loop) => loop.map(([x, y]): [number, number] => [x, y]));
  return module.triangulate(polygons).flat();
}

/** A part mesh as a solid whose triangles can be traced back to their parts, with the way back; the caller frees it. */
export interface TracedSolid {
  readonly solid: Manifold;
  readonly partOfOriginal: ReadonlyMap<number, number>;
}

/** @throws Error when the mesh is not closed by index. */
export function tracedSolid({ Manifold, Mesh }: Kernel, mesh: PartMesh): TracedSolid {
  const order = Array.from(mesh.partOfTriangle, (part, triangle) => ({ part, triangle })).sort(
    (a, b) => a.part - b.part || a.triangle - b.triangle,
  );
  const triVerts = new Uint32Array(mesh.triangles.length);
  const parts: number[] = [];
  const starts: number[] = [];
  for (const [i, { part, triangle }] of order.entries()) {
    for (let k = 0; k < 3; k++) triVerts[3 * i + k] = mesh.triangles[3 * triangle + k];
    if (parts.length === 0 || parts[parts.length - 1] !== part) {
      parts.push(part);
      starts.push(3 * i);
    }
  }
  const first = Manifold.reserveIDs(parts.length);
  const solid = Manifold.ofMesh(
    new Mesh({
      numProp: 3,
      vertProperties: mesh.positions,
      triVerts,
      runIndex: Uint32Array.from([...starts, triVerts.length]),
      runOriginalID: Uint32Array.from(parts, (_, run) => first + run),
    }),
  );
  return { solid, partOfOriginal: new Map(parts.map((part, run) => [first + run, part])) };
}

/** A solid's mesh with the part of each triangle; `other` where it came from nowhere known. */
export function partMeshOf(
  solid: Manifold,
  partOfOriginal: ReadonlyMap<number, number>,
  other = -1,
): PartMesh {
  const mesh = solid.getMesh();
  const runs = Array.from(mesh.runOriginalID, (original, run) => ({
    part: partOfOriginal.get(original) ?? other,
    from: mesh.runIndex[run],
    to: mesh.runIndex[run + 1],
  })).sort((a, b) => a.part - b.part);
  const triangles = new Uint32Array(mesh.triVerts.length);
  const partOfTriangle = new Int32Array(mesh.triVerts.length / 3);
  let at = 0;
  for (const { part, from, to } of runs) {
    triangles.set(mesh.triVerts.subarray(from, to), at);
    partOfTriangle.fill(part, at / 3, (at + to - from) / 3);
    at += to - from;
  }
  return { positions: Float32Array.from(positionsOf(mesh)), triangles, partOfTriangle };
}

/** A convex body as the hull of its corners, placed by the caller. */
export interface ConvexBody {
  readonly corners: readonly Vec3[];
  /** The plane of the cut face: what lies over it sticks out, or is taken from the other piece. */
  readonly normal: Vec3;
  readonly offset: number;
}

/** A piece to be given pegs and sockets. */
export interface KeyedPiece {
  readonly mesh: PartMesh;
  readonly pegs: readonly ConvexBody[];
  readonly sockets: readonly ConvexBody[];
}

/**
 * A piece with its pegs added and its sockets taken, each triangle with its part (−1 on pins and sockets), and how much of
 * each peg and socket lies over its plane, mm³.
 */
export function keyed(
  kernel: Kernel,
  { mesh, pegs, sockets }: KeyedPiece,
): { mesh: PartMesh; pegVolumes: number[]; socketVolumes: number[] } {
  const scope = new Scope();
  try {
    const hull = ({ corners }: ConvexBody) =>
      scope.hold(kernel.Manifold.hull(corners.map(([x, y, z]): [number, number, number] => [x, y, z])));
    const over = (body: Manifold, { normal, offset }: ConvexBody) =>
      scope.hold(body.trimByPlane([normal[0], normal[1], normal[2]], offset)).volume();
    const added = pegs.map(hull);
    const taken = sockets.map(hull);
    const { solid, partOfOriginal } = tracedSolid(kernel, mesh);
    let whole = scope.hold(solid);
    if (added.length > 0) whole = scope.hold(unionOf(kernel, [whole, ...added]));
    if (taken.length > 0) whole = scope.hold(whole.subtract(scope.hold(unionOf(kernel, taken))));
    return {
      mesh: partMeshOf(whole, partOfOriginal),
      pegVolumes: added.map((body, i) => over(body, pegs[i])),
      socketVolumes: taken.map((body, i) => over(body, sockets[i])),
    };
  } finally {
    scope.dispose();
  }
}
