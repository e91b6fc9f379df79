/** An undirected graph, edges by the indices of their ends; two nodes may have several, and an edge may be a loop. */
export interface Graph {
  readonly nodes: number;
  /** First and second end of each edge in turn. */
  readonly ends: ArrayLike<number>;
}

/** The bridges of a graph, and what hangs by each. */
export interface Bridges {
  /** 1 for each edge that alone joins its two sides. */
  readonly isBridge: Uint8Array;
  /** Nodes in the order of a depth-first walk; connected ones stand together. */
  readonly order: Int32Array;
  /** Place of each node in `order`. */
  readonly place: Int32Array;
  /** One past the last node of `order` that is reached through each node: what lies beyond a bridge is one stretch. */
  readonly end: Int32Array;
  /** Of each edge that is a bridge, its node farther along the walk; else −1. */
  readonly beyond: Int32Array;
  /** Connected component of each node, and where in `order` each component begins. */
  readonly component: Int32Array;
  readonly componentStart: readonly number[];
}

/** Edges without which a graph falls apart (Tarjan 1974, *A note on finding the bridges of a graph*), in linear time. */
export function bridgesOf({ nodes, ends }: Graph): Bridges {
  const edges = ends.length / 2;
  const start = new Int32Array(nodes + 1);
  for (let i = 0; i < ends.length; i++) start[ends[i] + 1]++;
  for (let i = 0; i < nodes; i++) start[i + 1] += start[i];
  const fill = start.slice(0, nodes);
  const incident = new Int32Array(ends.length);
  for (let edge = 0; edge < edges; edge++) {
    incident[fill[ends[2 * edge]]++] = edge;
    incident[fill[ends[2 * edge + 1]]++] = edge;
  }
  const place = new Int32Array(nodes).fill(-1);
  const low = new Int32Array(nodes);
  const end = new Int32Array(nodes);
  const order = new Int32Array(nodes);
  const component = new Int32Array(nodes);
  const componentStart: number[] = [];
  const isBridge = new Uint8Array(edges);
  const beyond = new Int32Array(edges).fill(-1);
  const next = start.slice(0, nodes);
  const by = new Int32Array(nodes).fill(-1);
  let count = 0;
  const enter = (node: number, edge: number): void => {
    by[node] = edge;
    component[node] = componentStart.length - 1;
    low[node] = count;
    place[node] = count;
    order[count++] = node;
  };
  for (let root = 0; root < nodes; root++) {
    if (place[root] >= 0) continue;
    componentStart.push(count);
    enter(root, -1);
    const stack = [root];
    while (stack.length > 0) {
      const node = stack[stack.length - 1];
      if (next[node] < start[node + 1]) {
        const edge = incident[next[node]++];
        if (edge === by[node]) continue;
        const other = ends[2 * edge] === node ? ends[2 * edge + 1] : ends[2 * edge];
        if (place[other] >= 0) low[node] = Math.min(low[node], place[other]);
        else {
          enter(other, edge);
          stack.push(other);
        }
        continue;
      }
      stack.pop();
      end[node] = count;
      if (stack.length === 0) continue;
      const parent = stack[stack.length - 1];
      low[parent] = Math.min(low[parent], low[node]);
      if (low[node] > place[parent]) {
        isBridge[by[node]] = 1;
        beyond[by[node]] = node;
      }
    }
  }
  return { isBridge, order, place, end, beyond, component, componentStart };
}

/** Sets that grow together (Tarjan 1975, union by halving paths). */
export class Groups {
  readonly #parent: Int32Array;

  constructor(count: number) {
    this.#parent = Int32Array.from({ length: count }, (_, i) => i);
  }

  of(member: number): number {
    const parent = this.#parent;
    let at = member;
    while (parent[at] !== at) {
      parent[at] = parent[parent[at]];
      at = parent[at];
    }
    return at;
  }

  join(a: number, b: number): void {
    this.#parent[this.of(a)] = this.of(b);
  }

  /** Groups numbered from 0: the number of each member's. */
  numbered(): { readonly count: number; readonly of: Int32Array } {
    const numbers = new Int32Array(this.#parent.length).fill(-1);
    const of = new Int32Array(this.#parent.length);
    let count = 0;
    for (let i = 0; i < of.length; i++) {
      const root = this.of(i);
      if (numbers[root] < 0) numbers[root] = count++;
      of[i] = numbers[root];
    }
    return { count, of };
  }
}
