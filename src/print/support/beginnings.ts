import type { TriangleMesh } from "../../geometry/mesh";
import type { ColumnRaster } from "./columnRaster";
import { edgesOfVertices } from "./edgesOfVertices";
import { cotangent, isCarried, leastSink, sinkOf, stepOf } from "./rasterSteps";
import { beginning, free, leaning } from "./undersideKinds";

/** What begins in the air is held within this distance of where it begins, mm: a smaller support does not stand. */
const padReach = 1;

/** Holds what begins in the air without leaning out, with what surrounds it. */
export function holdBeginnings(
  mesh: TriangleMesh,
  raster: ColumnRaster,
  leans: Float32Array,
  held: Uint8Array,
  overhangAngle: number,
  floor: number,
): void {
  const { columns, rows, first, low, cell } = raster;
  const candidates: number[] = [];
  const sinks = leastSink(cell, overhangAngle);
  for (let at = 0; at < columns * rows; at++) {
    for (let i = first[at]; i < first[at + 1]; i++) {
      if (held[i] !== free || low[i] <= floor) continue;
      if (!isCarried(raster, at, i, sinks)) candidates.push(at, i);
    }
  }
  const step = stepOf(cell, overhangAngle);
  const begins = whatBegins(mesh, raster, candidates, leans, 0.5 * cotangent(overhangAngle), floor, {
    held,
    step,
  });
  const reach = Math.max(1, Math.floor(padReach / cell + 1e-9));
  for (let k = 0; k < begins.length; k += 2) {
    const column = begins[k] % columns;
    const row = (begins[k] - column) / columns;
    const z = low[begins[k + 1]];
    const sink = sinkOf(cell, leans[begins[k + 1]]);
    held[begins[k + 1]] = beginning;
    for (let r = Math.max(0, row - reach); r <= Math.min(rows - 1, row + reach); r++) {
      for (let c = Math.max(0, column - reach); c <= Math.min(columns - 1, column + reach); c++) {
        const away = Math.hypot(c - column, r - row);
        if (away * cell > padReach + 1e-9 && away > 1) continue;
        const next = r * columns + c;
        for (let i = first[next]; i < first[next + 1]; i++) {
          if (held[i] === free && low[i] > floor && Math.abs(low[i] - z) <= away * Math.max(step, sink))
            held[i] = beginning;
        }
      }
    }
  }
}

/**
 * Of cells that nothing beside them carries those where the surface ends: with a vertex on their triangle or within a cell
 * of it from which no edge sinks by the slope. A steep wall whose foot falls between two cells looks as if it began in
 * the air, and has none.
 * @param candidates Cell and interval in turn; so is what is given back.
 * @param leans Cosine to the vertical of each interval's underside.
 * @param floor Up to this height the surface stands on the plate, mm.
 * @param nearHeld Where given, what is held already within a step of where the surface ends is left out.
 */
export function whatBegins(
  { positions, triangles }: TriangleMesh,
  raster: ColumnRaster,
  candidates: readonly number[],
  leans: Float32Array,
  slope: number,
  floor: number,
  nearHeld?: { readonly held: Uint8Array; readonly step: number },
): number[] {
  if (candidates.length === 0) return [];
  const { columns, rows, cell, origin, first, low, lowTriangle } = raster;
  const isSinking = sinkingIn({ positions, triangles }, slope);
  const count = candidates.length / 2;
  const begins = new Uint8Array(count);
  const confirm = (vertex: number, candidate: number): void => {
    const x = positions[3 * vertex];
    const y = positions[3 * vertex + 1];
    const z = positions[3 * vertex + 2];
    if (z > floor && (!nearHeld || !hasHeldNear(nearHeld, x, y, z))) begins[candidate] = 1;
  };
  // By cell one more than the last candidate that waits there for a vertex, by candidate the same of the one before.
  const lastOf = new Int32Array(columns * rows);
  const before = new Int32Array(count);
  // By candidate the least and the greatest height of such a vertex; by cell, of all that wait in it or beside it.
  const [least, most] = [new Float64Array(count), new Float64Array(count)];
  const leastBeside = new Float64Array(columns * rows).fill(Infinity);
  const mostBeside = new Float64Array(columns * rows).fill(-Infinity);
  let isAnyWaiting = false;
  for (let k = 0; k < count; k++) {
    const at = candidates[2 * k];
    const i = candidates[2 * k + 1];
    const t = 3 * lowTriangle[i];
    let lowest = triangles[t];
    for (let corner = t + 1; corner < t + 3; corner++) {
      if (positions[3 * triangles[corner] + 2] < positions[3 * lowest + 2]) lowest = triangles[corner];
    }
    if (!isSinking(lowest)) confirm(lowest, k);
    if (begins[k]) continue;
    before[k] = lastOf[at];
    lastOf[at] = k + 1;
    least[k] = low[i] - 2 * sinkOf(cell, leans[i]);
    most[k] = low[i] + 1e-3;
    tellAround(at, least[k], most[k]);
    isAnyWaiting = true;
  }
  const near = isAnyWaiting ? verticesOver(positions, raster, leastBeside, mostBeside) : [];
  for (const vertex of near) {
    const [column, row] = cellOf(positions[3 * vertex], positions[3 * vertex + 1]);
    const z = positions[3 * vertex + 2];
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
        for (let k = lastOf[r * columns + c] - 1; k >= 0; k = before[k] - 1) {
          if (!begins[k] && z >= least[k] && z <= most[k] && !isSinking(vertex)) confirm(vertex, k);
        }
      }
    }
  }
  const found: number[] = [];
  for (let k = 0; k < count; k++) if (begins[k]) found.push(candidates[2 * k], candidates[2 * k + 1]);
  return found;

  function cellOf(x: number, y: number): [column: number, row: number] {
    return [Math.floor((x - origin[0]) / cell), Math.floor((y - origin[1]) / cell)];
  }

  function tellAround(at: number, from: number, to: number): void {
    const column = at % columns;
    const row = (at - column) / columns;
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
        const beside = r * columns + c;
        if (from < leastBeside[beside]) leastBeside[beside] = from;
        if (to > mostBeside[beside]) mostBeside[beside] = to;
      }
    }
  }

  /** Whether what leans out is held where the surface ends. */
  function hasHeldNear(
    { held, step }: { held: Uint8Array; step: number },
    x: number,
    y: number,
    z: number,
  ): boolean {
    const [column, row] = cellOf(x, y);
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
        const at = r * columns + c;
        for (let i = first[at]; i < first[at + 1]; i++) {
          if (held[i] === leaning && Math.abs(low[i] - z) <= step) return true;
        }
      }
    }
    return false;
  }
}

/** Vertices over cells between the least and the greatest height of each. */
function verticesOver(
  positions: Float32Array,
  { columns, rows, cell, origin }: ColumnRaster,
  least: Float64Array,
  most: Float64Array,
): number[] {
  const inCells = 1 / cell;
  const [originX, originY] = origin;
  const over: number[] = [];
  for (let i = 0; i < positions.length; i += 3) {
    // Rounding may take a vertex at the grid's border past it.
    const column = Math.min(columns - 1, Math.max(0, Math.floor((positions[i] - originX) * inCells)));
    const row = Math.min(rows - 1, Math.max(0, Math.floor((positions[i + 1] - originY) * inCells)));
    const at = row * columns + column;
    const z = positions[i + 2];
    if (z >= least[at] && z <= most[at]) over.push(i / 3);
  }
  return over;
}

/** Tells of a vertex whether an edge sinks from it by at least so much a mm; each is looked at once, when it is asked for. */
function sinkingIn({ positions, triangles }: TriangleMesh, slope: number): (vertex: number) => boolean {
  const { first, ends } = edgesOfVertices(triangles, positions.length / 3);
  const square = slope * slope;
  const unknown = 2;
  const known = new Uint8Array(positions.length / 3).fill(unknown);
  const looked = (vertex: number): boolean => {
    const x = positions[3 * vertex];
    const y = positions[3 * vertex + 1];
    const z = positions[3 * vertex + 2];
    for (let k = first[vertex]; k < first[vertex + 1]; k++) {
      const end = 3 * ends[k];
      const drop = z - positions[end + 2];
      if (drop <= 0) continue;
      const dx = x - positions[end];
      const dy = y - positions[end + 1];
      if (drop * drop >= square * (dx * dx + dy * dy)) return true;
    }
    return false;
  };
  return (vertex) => {
    if (known[vertex] === unknown) known[vertex] = looked(vertex) ? 1 : 0;
    return known[vertex] === 1;
  };
}
