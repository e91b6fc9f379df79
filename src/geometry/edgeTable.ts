import type { TriangleMesh } from "./mesh";
import { hashOf, powerOfTwoOver } from "./weldVertices";

/** The edges of a mesh, each once, whichever way its triangles run along it. */
export interface EdgeTable {
  readonly count: number;
  /** How many triangles have each edge. */
  readonly uses: Uint32Array;
  /** The first two half edges of each (3 × triangle + side; the side begins at the corner of its number). */
  readonly halves: Int32Array;
  /** 1 where the first two run along it the same way: one of them is turned over. */
  readonly sameWay: Uint8Array;
}

/** Finds the edges of a mesh by hashing: in time that grows with the triangles, whatever the mesh. */
export function edgeTable({ triangles }: TriangleMesh): EdgeTable {
  const halfCount = triangles.length;
  const capacity = powerOfTwoOver(2 * halfCount);
  const mask = capacity - 1;
  const slots = new Int32Array(capacity).fill(-1);
  const uses = new Uint32Array(halfCount);
  const halves = new Int32Array(2 * halfCount).fill(-1);
  const sameWay = new Uint8Array(halfCount);
  const endOf = (half: number): number => triangles[half % 3 === 2 ? half - 2 : half + 1];
  let count = 0;
  for (let half = 0; half < halfCount; half++) {
    const from = triangles[half];
    const to = endOf(half);
    const low = Math.min(from, to);
    const high = Math.max(from, to);
    let slot = hashOf(low, high, 0) & mask;
    let edge = slots[slot];
    while (edge >= 0) {
      const a = triangles[halves[2 * edge]];
      const b = endOf(halves[2 * edge]);
      if ((a === from && b === to) || (a === to && b === from)) break;
      slot = (slot + 1) & mask;
      edge = slots[slot];
    }
    if (edge < 0) {
      edge = count++;
      slots[slot] = edge;
      halves[2 * edge] = half;
    } else if (uses[edge] === 1) {
      halves[2 * edge + 1] = half;
      sameWay[edge] = triangles[halves[2 * edge]] === from ? 1 : 0;
    }
    uses[edge]++;
  }
  return {
    count,
    uses: uses.slice(0, count),
    halves: halves.slice(0, 2 * count),
    sameWay: sameWay.slice(0, count),
  };
}

/** Kept as long as the triangles are: several questions ask for the neighbours of one mesh, wherever it lies. */
const kept = new WeakMap<Uint32Array, Int32Array>();

/**
 * For each half edge (3 × triangle + side) the one of the neighbouring triangle that runs against it; −1 where an edge
 * has one triangle or more than two, or both run the same way. The triangles must not change after.
 */
export function oppositeHalves(mesh: TriangleMesh): Int32Array {
  const known = kept.get(mesh.triangles);
  if (known) return known;
  const { count, uses, halves, sameWay } = edgeTable(mesh);
  const opposite = new Int32Array(mesh.triangles.length).fill(-1);
  for (let edge = 0; edge < count; edge++) {
    if (uses[edge] !== 2 || sameWay[edge] === 1) continue;
    opposite[halves[2 * edge]] = halves[2 * edge + 1];
    opposite[halves[2 * edge + 1]] = halves[2 * edge];
  }
  kept.set(mesh.triangles, opposite);
  return opposite;
}
