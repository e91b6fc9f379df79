import { alone, join, rootOf } from "../../geometry/disjointSets";
import type { TriangleMesh } from "../../geometry/mesh";

/**
 * The vertices of a mesh in lumps: those of one grid cell that hang together within it. What hundreds of planes ask of a
 * mesh is answered by a tenth of its vertices.
 */
export interface Lumps {
  readonly count: number;
  readonly ofVertex: Int32Array;
  /** A ball round each lump, mm. */
  readonly centres: Float64Array;
  readonly radii: Float64Array;
  /** Vertices of lump i, from `memberFrom[i]` to `memberFrom[i + 1]`. */
  readonly members: Int32Array;
  readonly memberFrom: Int32Array;
  /** Edges within a lump, two vertices in turn, those of lump i from `innerFrom[i]` to `innerFrom[i + 1]`. */
  readonly inner: Uint32Array;
  readonly innerFrom: Int32Array;
  /** Pairs of lumps that edges join, and those edges, in the same manner. */
  readonly pairs: Uint32Array;
  readonly outer: Uint32Array;
  readonly outerFrom: Int32Array;
}

/** Side of a grid cell: this share of the mesh's greatest extent, and at least so much, mm. */
const cellShare = 1 / 26;
const leastCell = 4;

/** The lumps of a closed mesh. */
export function lumpsOf(
  { positions, triangles }: TriangleMesh,
  cell = Math.max(leastCell, cellShare * greatestExtent(positions)),
): Lumps {
  const vertices = positions.length / 3;
  const cellOf = new Int32Array(vertices);
  const numberOfCell = new Map<number, number>();
  for (let i = 0; i < vertices; i++) {
    const [x, y, z] = [0, 1, 2].map((axis) => Math.floor(positions[3 * i + axis] / cell) + 4096);
    const key = (x * 8192 + y) * 8192 + z;
    let number = numberOfCell.get(key);
    if (number === undefined) {
      number = numberOfCell.size;
      numberOfCell.set(key, number);
    }
    cellOf[i] = number;
  }
  const parent = alone(vertices);
  const edges = edgesOf(triangles);
  for (let e = 0; e < edges.length; e += 2) {
    if (cellOf[edges[e]] === cellOf[edges[e + 1]]) join(parent, edges[e], edges[e + 1]);
  }
  const ofVertex = new Int32Array(vertices);
  let count = 0;
  for (let i = 0; i < vertices; i++) {
    // The root is the least member: it has its number before any other needs it.
    const root = rootOf(parent, i);
    ofVertex[i] = root === i ? count++ : ofVertex[root];
  }
  return {
    ...ballsOf(positions, ofVertex, count),
    ...membersOf(ofVertex, count),
    ...sortedEdges(edges, ofVertex, count),
    ofVertex,
  };
}

function greatestExtent(positions: Float32Array): number {
  const least = [Infinity, Infinity, Infinity];
  const most = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    least[i % 3] = Math.min(least[i % 3], positions[i]);
    most[i % 3] = Math.max(most[i % 3], positions[i]);
  }
  return Math.max(...most.map((value, axis) => value - least[axis]));
}

/** Each edge of a closed mesh once: of its two ways, the one from the lower number to the higher. */
function edgesOf(triangles: Uint32Array): Uint32Array {
  const edges = new Uint32Array(triangles.length);
  let count = 0;
  for (let t = 0; t < triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const a = triangles[t + k];
      const b = triangles[t + (k === 2 ? 0 : k + 1)];
      if (a < b) {
        edges[count++] = a;
        edges[count++] = b;
      }
    }
  }
  return edges.slice(0, count);
}

function ballsOf(positions: Float32Array, ofVertex: Int32Array, count: number) {
  const least = new Float64Array(3 * count).fill(Infinity);
  const most = new Float64Array(3 * count).fill(-Infinity);
  for (let i = 0; i < ofVertex.length; i++) {
    for (let axis = 0; axis < 3; axis++) {
      const at = 3 * ofVertex[i] + axis;
      const value = positions[3 * i + axis];
      if (value < least[at]) least[at] = value;
      if (value > most[at]) most[at] = value;
    }
  }
  const centres = least.map((value, at) => (value + most[at]) / 2);
  const radii = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    const half = [0, 1, 2].map((axis) => (most[3 * i + axis] - least[3 * i + axis]) / 2);
    radii[i] = Math.hypot(...half) + 1e-6;
  }
  return { count, centres, radii };
}

function membersOf(ofVertex: Int32Array, count: number) {
  const memberFrom = new Int32Array(count + 1);
  for (const lump of ofVertex) memberFrom[lump + 1]++;
  for (let i = 0; i < count; i++) memberFrom[i + 1] += memberFrom[i];
  const filled = memberFrom.slice();
  const members = new Int32Array(ofVertex.length);
  for (let i = 0; i < ofVertex.length; i++) members[filled[ofVertex[i]]++] = i;
  return { members, memberFrom };
}

function sortedEdges(edges: Uint32Array, ofVertex: Int32Array, count: number) {
  const total = edges.length / 2;
  const innerFrom = new Int32Array(count + 1);
  const keys = new Float64Array(total);
  let outers = 0;
  for (let e = 0; e < total; e++) {
    const [a, b] = [ofVertex[edges[2 * e]], ofVertex[edges[2 * e + 1]]];
    if (a === b) innerFrom[a + 1]++;
    // Sorted by the pair of lumps; the edge itself rides along in the low digits.
    else keys[outers++] = (a < b ? a * count + b : b * count + a) * total + e;
  }
  for (let i = 0; i < count; i++) innerFrom[i + 1] += innerFrom[i];
  const inner = new Uint32Array(2 * (total - outers));
  const filled = innerFrom.slice();
  for (let e = 0; e < total; e++) {
    const a = ofVertex[edges[2 * e]];
    if (a !== ofVertex[edges[2 * e + 1]]) continue;
    const at = 2 * filled[a]++;
    inner[at] = edges[2 * e];
    inner[at + 1] = edges[2 * e + 1];
  }
  const sorted = keys.subarray(0, outers).sort();
  const outer = new Uint32Array(2 * outers);
  const pairs: number[] = [];
  const outerFrom: number[] = [];
  let last = -1;
  for (let i = 0; i < outers; i++) {
    const pair = Math.floor(sorted[i] / total);
    const e = sorted[i] - pair * total;
    if (pair !== last) {
      pairs.push(Math.floor(pair / count), pair % count);
      outerFrom.push(i);
      last = pair;
    }
    outer[2 * i] = edges[2 * e];
    outer[2 * i + 1] = edges[2 * e + 1];
  }
  outerFrom.push(outers);
  return {
    inner,
    innerFrom,
    pairs: Uint32Array.from(pairs),
    outer,
    outerFrom: Int32Array.from(outerFrom),
  };
}
