import type { TriangleMesh } from "./mesh";
import { hashOf } from "./weldVertices";

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
  let capacity = 16;
  while (capacity < 2 * halfCount) capacity *= 2;
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
