import type { Mesh } from "manifold-3d";
import type { PartMesh } from "../mesh";
import { componentsOf } from "./components";
import { separateCoincidentVertices } from "./distinctVertices";

/** One piece of the result: what would come off the plate as one. */
export interface Piece {
  /** mm³, without its voids. */
  readonly volume: number;
  /** The bodies whose surface it has, by index. */
  readonly bodies: readonly number[];
}

/** An empty space that is closed in. */
export interface Void {
  /** mm³ */
  readonly volume: number;
  /** Its middle, mm. */
  readonly at: readonly [number, number, number];
}

/** The result as it goes into a file, and what was found on the way. */
export interface FinishedMesh {
  /** Closed however its vertices are welded. */
  readonly mesh: PartMesh;
  /** The largest first. */
  readonly pieces: readonly Piece[];
  readonly voids: readonly Void[];
  /** Specks that were dropped. */
  readonly crumbs: { readonly count: number; readonly volume: number };
  /** Voids that are too small to matter, filled. */
  readonly filled: { readonly count: number; readonly volume: number };
  /** Bodies that have no surface in the result: swallowed by others or by the head. */
  readonly hidden: readonly number[];
  /** Bodies that went with the crumbs, whole. */
  readonly lost: readonly number[];
}

/** Drops crumbs, fills specks of void, names pieces, and makes the mesh proof against welding. */
export function finishMesh(
  result: Mesh,
  bodyOfOriginal: ReadonlyMap<number, number>,
  bodyCount: number,
  crumbVolume: number,
): FinishedMesh {
  const positions = positionsOf(result);
  const { triangles, partOfTriangle } = trianglesByPart(result, bodyOfOriginal);
  const { ofTriangle, volumes } = componentsOf({ positions, triangles });
  const isKept = Uint8Array.from(volumes, (volume) => (Math.abs(volume) >= crumbVolume ? 1 : 0));

  const bodiesOfShell = Array.from(volumes, () => new Set<number>());
  const seen = new Uint8Array(bodyCount);
  const kept = new Uint8Array(bodyCount);
  for (let t = 0; t < partOfTriangle.length; t++) {
    const part = partOfTriangle[t];
    if (part < 0) continue;
    seen[part] = 1;
    if (isKept[ofTriangle[t]]) kept[part] = 1;
    bodiesOfShell[ofTriangle[t]].add(part);
  }
  const shells = Array.from(volumes, (volume, shell) => ({ volume, shell, kept: isKept[shell] === 1 }));
  const sum = (list: readonly { volume: number }[]) => ({
    count: list.length,
    volume: Math.abs(list.reduce((total, { volume }) => total + volume, 0)),
  });
  return {
    mesh: keptMesh(positions, triangles, partOfTriangle, (t) => isKept[ofTriangle[t]] === 1),
    pieces: shells
      .filter(({ volume, kept }) => kept && volume > 0)
      .sort((a, b) => b.volume - a.volume)
      .map(({ volume, shell }) => ({ volume, bodies: [...bodiesOfShell[shell]].sort((a, b) => a - b) })),
    voids: shells
      .filter(({ volume, kept }) => kept && volume < 0)
      .map(({ volume, shell }) => ({
        volume: -volume,
        at: middleOf(positions, triangles, ofTriangle, shell),
      })),
    crumbs: sum(shells.filter(({ volume, kept }) => !kept && volume >= 0)),
    filled: sum(shells.filter(({ volume, kept }) => !kept && volume < 0)),
    hidden: indices(seen, (flag) => flag === 0),
    lost: indices(seen, (flag, body) => flag === 1 && kept[body] === 0),
  };
}

/** x, y, z of each vertex of the kernel's mesh, whatever else it carries. */
export function positionsOf(result: Mesh): Float32Array {
  const { numProp, vertProperties } = result;
  if (numProp === 3) return vertProperties;
  const positions = new Float32Array((vertProperties.length / numProp) * 3);
  for (let vertex = 0; vertex * 3 < positions.length; vertex++) {
    for (let axis = 0; axis < 3; axis++) {
      positions[3 * vertex + axis] = vertProperties[numProp * vertex + axis];
    }
  }
  return positions;
}

/**
 * The triangles in the order of their parts, those of the head and of cuts first. The kernel gives them in the order in
 * which the bodies were made, which hangs on what was built before: the same input must give the same bytes.
 */
function trianglesByPart(
  { triVerts, runIndex, runOriginalID }: Mesh,
  bodyOfOriginal: ReadonlyMap<number, number>,
): { triangles: Uint32Array; partOfTriangle: Int32Array } {
  const runs = Array.from(runOriginalID, (original, run) => ({
    part: bodyOfOriginal.get(original) ?? -1,
    from: runIndex[run],
    to: runIndex[run + 1],
  })).sort((a, b) => a.part - b.part);
  const triangles = new Uint32Array(triVerts.length);
  const partOfTriangle = new Int32Array(triVerts.length / 3).fill(-1);
  let at = 0;
  for (const { part, from, to } of runs) {
    triangles.set(triVerts.subarray(from, to), at);
    partOfTriangle.fill(part, at / 3, (at + to - from) / 3);
    at += to - from;
  }
  return { triangles, partOfTriangle };
}

/** The mesh of the triangles that are kept, with only the vertices that they use. */
function keptMesh(
  positions: Float32Array,
  triangles: Uint32Array,
  parts: Int32Array,
  isKept: (triangle: number) => boolean,
): PartMesh {
  const newIndex = new Int32Array(positions.length / 3).fill(-1);
  const keptPositions = new Float32Array(positions.length);
  const keptTriangles = new Uint32Array(triangles.length);
  const keptParts = new Int32Array(parts.length);
  let vertices = 0;
  let count = 0;
  for (let t = 0; t < parts.length; t++) {
    if (!isKept(t)) continue;
    keptParts[count] = parts[t];
    for (let corner = 0; corner < 3; corner++) {
      const vertex = triangles[3 * t + corner];
      if (newIndex[vertex] < 0) {
        newIndex[vertex] = vertices;
        for (let axis = 0; axis < 3; axis++) {
          keptPositions[3 * vertices + axis] = positions[3 * vertex + axis];
        }
        vertices++;
      }
      keptTriangles[3 * count + corner] = newIndex[vertex];
    }
    count++;
  }
  const own = keptPositions.slice(0, 3 * vertices);
  separateCoincidentVertices(own);
  return {
    positions: own,
    triangles: keptTriangles.slice(0, 3 * count),
    partOfTriangle: keptParts.slice(0, count),
  };
}

function middleOf(
  positions: Float32Array,
  triangles: Uint32Array,
  ofTriangle: Int32Array,
  shell: number,
): [number, number, number] {
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < triangles.length; i++) {
    if (ofTriangle[(i / 3) | 0] !== shell) continue;
    for (let axis = 0; axis < 3; axis++) {
      const value = positions[3 * triangles[i] + axis];
      least[axis] = Math.min(least[axis], value);
      most[axis] = Math.max(most[axis], value);
    }
  }
  return [0, 1, 2].map((axis) => (least[axis] + most[axis]) / 2) as [number, number, number];
}

function indices(flags: Uint8Array, isWanted: (flag: number, index: number) => boolean): number[] {
  const found: number[] = [];
  for (let index = 0; index < flags.length; index++) if (isWanted(flags[index], index)) found.push(index);
  return found;
}
