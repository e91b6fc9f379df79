import { GrowingFloats, GrowingIndices } from "../../geometry/growingArrays";
import type { TriangleMesh } from "../../geometry/mesh";
import type { Support } from "./support";

/** Triangles of the surface at most; with more the cells are doubled. */
const mostTriangles = 60_000;

/**
 * The outside of supports as a light mesh to look at, plate's frame: over cells of about `cell` mm boxes from the mean
 * foot to the mean top of the runs in them, without the sides that two boxes share. Not for measuring.
 * @throws RangeError when the cell is not above zero.
 */
export function supportSurface({ runs }: Pick<Support, "runs">, cell = 2): TriangleMesh {
  if (!(cell > 0)) throw new RangeError(`a cell of ${cell} mm: it must be above 0`);
  for (let cells = Math.max(1, Math.round(cell / runs.cell)); ; cells *= 2) {
    const mesh = surfaceOver(boxesOver(runs, cells), cells * runs.cell);
    const isOneBox = cells >= Math.max(runs.columns, runs.rows);
    if (mesh.triangles.length <= 3 * mostTriangles || isOneBox) return mesh;
  }
}

interface Box {
  bottom: number;
  top: number;
  /** Runs in it. */
  count: number;
  /** Least and greatest height of them: what overlaps is one box. */
  low: number;
  high: number;
}

interface Boxes {
  readonly origin: readonly [number, number];
  readonly columns: number;
  readonly ofCell: ReadonlyMap<number, readonly Box[]>;
}

function boxesOver(runs: Support["runs"], cells: number): Boxes {
  // Boxes begin at multiples of their side, whatever the piece covers.
  const shift = (axis: 0 | 1): number => {
    const from = Math.round(runs.origin[axis] / runs.cell);
    return ((from % cells) + cells) % cells;
  };
  const [shiftX, shiftY] = [shift(0), shift(1)];
  const columns = Math.ceil((runs.columns + shiftX) / cells);
  const ofCell = new Map<number, Box[]>();
  for (let i = 0; i < runs.count; i++) {
    const at =
      Math.floor((runs.row[i] + shiftY) / cells) * columns + Math.floor((runs.column[i] + shiftX) / cells);
    const [bottom, top] = [runs.bottom[i], runs.top[i]];
    const list = ofCell.get(at);
    const own = list?.find(({ low, high }) => bottom < high && low < top);
    if (own) {
      own.bottom += (bottom - own.bottom) / (own.count + 1);
      own.top += (top - own.top) / (own.count + 1);
      own.count++;
      own.low = Math.min(own.low, bottom);
      own.high = Math.max(own.high, top);
    } else {
      const box: Box = { bottom, top, count: 1, low: bottom, high: top };
      if (list) list.push(box);
      else ofCell.set(at, [box]);
    }
  }
  return {
    origin: [runs.origin[0] - shiftX * runs.cell, runs.origin[1] - shiftY * runs.cell],
    columns,
    ofCell,
  };
}

function surfaceOver({ origin, columns, ofCell }: Boxes, side: number): TriangleMesh {
  const positions = new GrowingFloats();
  const triangles = new GrowingIndices();
  const quad = (...corners: readonly (readonly [number, number, number])[]): void => {
    const base = positions.length / 3;
    for (const [x, y, z] of corners) positions.push(x, y, z);
    triangles.push(base, base + 1, base + 2);
    triangles.push(base, base + 2, base + 3);
  };
  for (const [at, boxes] of ofCell) {
    const column = at % columns;
    const x0 = origin[0] + column * side;
    const y0 = origin[1] + ((at - column) / columns) * side;
    const [x1, y1] = [x0 + side, y0 + side];
    const beside = (across: number, along: number): readonly Box[] =>
      column + across < 0 || column + across >= columns
        ? []
        : (ofCell.get(at + across + along * columns) ?? []);
    for (const { bottom, top } of boxes) {
      quad([x0, y0, top], [x1, y0, top], [x1, y1, top], [x0, y1, top]);
      quad([x0, y1, bottom], [x1, y1, bottom], [x1, y0, bottom], [x0, y0, bottom]);
      for (const [a, b] of uncovered(bottom, top, beside(1, 0)))
        quad([x1, y0, a], [x1, y1, a], [x1, y1, b], [x1, y0, b]);
      for (const [a, b] of uncovered(bottom, top, beside(-1, 0)))
        quad([x0, y1, a], [x0, y0, a], [x0, y0, b], [x0, y1, b]);
      for (const [a, b] of uncovered(bottom, top, beside(0, 1)))
        quad([x1, y1, a], [x0, y1, a], [x0, y1, b], [x1, y1, b]);
      for (const [a, b] of uncovered(bottom, top, beside(0, -1)))
        quad([x0, y0, a], [x1, y0, a], [x1, y0, b], [x0, y0, b]);
    }
  }
  return { positions: positions.finish(), triangles: triangles.finish() };
}

/** What of a height no box beside covers. */
function uncovered(bottom: number, top: number, beside: readonly Box[]): [number, number][] {
  let left: [number, number][] = [[bottom, top]];
  for (const box of beside) {
    left = left.flatMap(([a, b]): [number, number][] => {
      if (box.top <= a || box.bottom >= b) return [[a, b]];
      const parts: [number, number][] = [];
      if (box.bottom > a) parts.push([a, box.bottom]);
      if (box.top < b) parts.push([box.top, b]);
      return parts;
    });
  }
  return left;
}
