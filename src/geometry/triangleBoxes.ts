import type { TriangleMesh } from "./mesh";

/** Boxes within boxes round the triangles of a mesh. Node 0 holds all. */
export interface TriangleBoxes {
  /** Six numbers a node: least x, y, z, most x, y, z. */
  readonly boxes: Float64Array;
  /** First child (the second follows it), or −1 − first triangle of a leaf. */
  readonly first: Int32Array;
  /** Triangles of a leaf. */
  readonly count: Uint32Array;
  /** The mesh's triangles in the order of the leaves. */
  readonly order: Uint32Array;
  /** Their corners in that order, nine numbers each. */
  readonly corners: Float64Array;
}

/** Triangles in one leaf. */
const leafSize = 4;
/** Nodes from the root down to a leaf, at most. */
export const mostDepth = 64;

/**
 * Divides the triangles of a mesh into boxes within boxes (Clark 1976, hierarchical geometric models), each split across
 * its widest axis at the middle of the triangles' centres.
 */
export function triangleBoxes(mesh: TriangleMesh): TriangleBoxes {
  const { positions, triangles } = mesh;
  const size = triangles.length / 3;
  const mostNodes = Math.max(1, 2 * size);
  const first = new Int32Array(mostNodes);
  const count = new Uint32Array(mostNodes);
  const order = new Uint32Array(size);
  for (let t = 0; t < size; t++) order[t] = t;
  const nodes = divide(middlesOf(mesh, size), order, first, count);
  const corners = new Float64Array(9 * size);
  for (let i = 0; i < size; i++) {
    for (let corner = 0; corner < 3; corner++) {
      const at = 3 * triangles[3 * order[i] + corner];
      const to = 9 * i + 3 * corner;
      corners[to] = positions[at];
      corners[to + 1] = positions[at + 1];
      corners[to + 2] = positions[at + 2];
    }
  }
  const boxes = new Float64Array(6 * mostNodes);
  enclose(boxes, nodes, first, count, corners);
  return { boxes, first, count, order, corners };
}

/** Divides the triangles into nodes, each child after its parent; gives how many there are. */
function divide(middles: Float64Array, order: Uint32Array, first: Int32Array, count: Uint32Array): number {
  const box = new Float64Array(6);
  let nodes = 1;
  // Node, from, to and depth of each that waits.
  const waiting = new Int32Array(4 * (mostDepth + 2));
  waiting[2] = order.length;
  let top = 4;
  while (top > 0) {
    top -= 4;
    const node = waiting[top];
    const from = waiting[top + 1];
    const to = waiting[top + 2];
    const depth = waiting[top + 3];
    first[node] = -1 - from;
    count[node] = to - from;
    if (to - from <= leafSize || depth >= mostDepth - 1) continue;
    boxAround(middles, from, to, box, 0);
    const axis = widestAxis(box);
    if (!(box[3 + axis] - box[axis] > 0)) continue;
    let middle = partition(order, middles, from, to, axis, (box[axis] + box[3 + axis]) / 2);
    if (middle === from || middle === to) middle = (from + to) >> 1;
    first[node] = nodes;
    count[node] = 0;
    for (let child = 0; child < 2; child++, top += 4) {
      waiting[top] = nodes++;
      waiting[top + 1] = child === 0 ? from : middle;
      waiting[top + 2] = child === 0 ? middle : to;
      waiting[top + 3] = depth + 1;
    }
  }
  return nodes;
}

/** Boxes from the leaves up: the last node first. */
function enclose(
  boxes: Float64Array,
  nodes: number,
  first: Int32Array,
  count: Uint32Array,
  corners: Float64Array,
): void {
  for (let node = nodes - 1; node >= 0; node--) {
    const at = 6 * node;
    if (first[node] < 0) {
      const from = -1 - first[node];
      boxAround(corners, 3 * from, 3 * (from + count[node]), boxes, at);
      continue;
    }
    const left = 6 * first[node];
    const right = left + 6;
    for (let k = 0; k < 3; k++) {
      boxes[at + k] = Math.min(boxes[left + k], boxes[right + k]);
      boxes[at + 3 + k] = Math.max(boxes[left + 3 + k], boxes[right + 3 + k]);
    }
  }
}

/** Writes least x, y, z and most x, y, z of the points from `from` to `to` into a list from `at` on. */
function boxAround(points: Float64Array, from: number, to: number, into: Float64Array, at: number): void {
  let [leastX, leastY, leastZ] = [Infinity, Infinity, Infinity];
  let [mostX, mostY, mostZ] = [-Infinity, -Infinity, -Infinity];
  for (let i = 3 * from; i < 3 * to; i += 3) {
    const x = points[i];
    const y = points[i + 1];
    const z = points[i + 2];
    if (x < leastX) leastX = x;
    if (x > mostX) mostX = x;
    if (y < leastY) leastY = y;
    if (y > mostY) mostY = y;
    if (z < leastZ) leastZ = z;
    if (z > mostZ) mostZ = z;
  }
  into[at] = leastX;
  into[at + 1] = leastY;
  into[at + 2] = leastZ;
  into[at + 3] = mostX;
  into[at + 4] = mostY;
  into[at + 5] = mostZ;
}

function widestAxis(box: Float64Array): number {
  const x = box[3] - box[0];
  const y = box[4] - box[1];
  const z = box[5] - box[2];
  return x >= y && x >= z ? 0 : y >= z ? 1 : 2;
}

/** Twice the middle of the box round each triangle. */
function middlesOf({ positions, triangles }: TriangleMesh, count: number): Float64Array {
  const middles = new Float64Array(3 * count);
  for (let i = 0; i < 3 * count; i += 3) {
    const a = 3 * triangles[i];
    const b = 3 * triangles[i + 1];
    const c = 3 * triangles[i + 2];
    for (let axis = 0; axis < 3; axis++) {
      const p = positions[a + axis];
      const q = positions[b + axis];
      const r = positions[c + axis];
      middles[i + axis] = Math.min(p, q, r) + Math.max(p, q, r);
    }
  }
  return middles;
}

/** Puts those of a range that lie below `split` on an axis first; gives where the others begin. */
function partition(
  order: Uint32Array,
  points: Float64Array,
  from: number,
  to: number,
  axis: number,
  split: number,
): number {
  let middle = from;
  for (let i = from; i < to; i++) {
    if (!(points[3 * i + axis] < split)) continue;
    const own = order[i];
    order[i] = order[middle];
    order[middle] = own;
    for (let k = 0; k < 3; k++) {
      const coordinate = points[3 * i + k];
      points[3 * i + k] = points[3 * middle + k];
      points[3 * middle + k] = coordinate;
    }
    middle++;
  }
  return middle;
}
