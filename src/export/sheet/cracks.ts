import type { Line } from "./contour";

/**
 * Lines between neighbouring pixels of different kind. `kindBetween` says what line runs between two neighbours (0 for
 * none); lines of one kind are chained from one meeting point to the next. Points are in pixels.
 */
export function chainCracks(
  width: number,
  height: number,
  kindBetween: (at: number, beside: number) => number,
): Map<number, Line[]> {
  // Corners of pixels are the nodes. A crack to the right of a node is level, one below it upright.
  const columns = width + 1;
  const level = new Uint8Array(columns * (height + 1));
  const upright = new Uint8Array(columns * (height + 1));
  for (let row = 0; row < height; row++) {
    for (let column = 0; column < width; column++) {
      const at = row * width + column;
      if (column + 1 < width) upright[row * columns + column + 1] = kindBetween(at, at + 1);
      if (row + 1 < height) level[(row + 1) * columns + column] = kindBetween(at, at + width);
    }
  }
  // Ways out of a node: right, down, left, up.
  const step = [1, columns, -1, -columns];
  const kindOf = (node: number, way: number): number => {
    if (way === 0) return level[node];
    if (way === 1) return upright[node];
    if (way === 2) return node % columns === 0 ? 0 : level[node - 1];
    return node < columns ? 0 : upright[node - columns];
  };
  const clear = (node: number, way: number): void => {
    if (way === 0) level[node] = 0;
    else if (way === 1) upright[node] = 0;
    else if (way === 2) level[node - 1] = 0;
    else upright[node - columns] = 0;
  };
  const degree = new Uint8Array(columns * (height + 1));
  for (let node = 0; node < degree.length; node++) {
    const left = node % columns === 0 ? 0 : level[node - 1];
    const above = node < columns ? 0 : upright[node - columns];
    if ((level[node] | upright[node] | left | above) === 0) continue;
    let ends = 0;
    let kind = 0;
    let mixed = false;
    for (let way = 0; way < 4; way++) {
      const here = kindOf(node, way);
      if (here === 0) continue;
      ends++;
      if (kind !== 0 && here !== kind) mixed = true;
      kind = here;
    }
    // Where kinds meet, a line ends.
    degree[node] = mixed ? 3 : ends;
  }
  const lines = new Map<number, Line[]>();
  const follow = (start: number, firstWay: number): void => {
    const kind = kindOf(start, firstWay);
    const points = [start % columns, Math.floor(start / columns)];
    let node = start;
    let way = firstWay;
    for (;;) {
      clear(node, way);
      node += step[way];
      points.push(node % columns, Math.floor(node / columns));
      if (node === start || degree[node] !== 2) break;
      way = 0;
      while (way < 4 && kindOf(node, way) !== kind) way++;
      if (way === 4) break;
    }
    const closed = node === start && degree[start] === 2;
    if (closed) points.length -= 2;
    const list = lines.get(kind) ?? [];
    list.push({ points, closed });
    lines.set(kind, list);
  };
  for (let pass = 0; pass < 2; pass++) {
    for (let node = 0; node < degree.length; node++) {
      // First the lines with ends, then the rings that are left.
      if (degree[node] === 0 || (pass === 0 && degree[node] === 2)) continue;
      for (let way = 0; way < 4; way++) if (kindOf(node, way) !== 0) follow(node, way);
    }
  }
  return lines;
}
