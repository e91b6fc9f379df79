/** Sets that grow together, as an array of parents: each set is named by its least member (Tarjan 1975, path halving). */
export function rootOf(parent: Int32Array, of: number): number {
  let at = of;
  while (parent[at] !== at) {
    parent[at] = parent[parent[at]];
    at = parent[at];
  }
  return at;
}

export function join(parent: Int32Array, a: number, b: number): void {
  const ra = rootOf(parent, a);
  const rb = rootOf(parent, b);
  if (ra < rb) parent[rb] = ra;
  else parent[ra] = rb;
}

/** Sets of `count` members, each alone. */
export function alone(count: number): Int32Array {
  const parent = new Int32Array(count);
  for (let i = 0; i < count; i++) parent[i] = i;
  return parent;
}
