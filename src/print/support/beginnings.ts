import type { TriangleMesh } from "../../geometry/mesh";
import type { ColumnRaster } from "./columnRaster";
import { edgesOfVertices } from "./edgesOfVertices";
import { cotangent, isCarried, sinkOf, stepOf } from "./rasterSteps";
import { beginning, free, leaning } from "./undersideKinds";

/** What begins in the air is held within this distance of where it begins, mm: a smaller support does not stand. */
const padReach = 1;

const none: readonly number[] = [];

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
  for (let at = 0; at < columns * rows; at++) {
    for (let i = first[at]; i < first[at + 1]; i++) {
      if (held[i] !== free || low[i] <= floor) continue;
      if (!isCarried(raster, at, i, overhangAngle)) candidates.push(at, i);
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
  const begins = new Set<number>();
  // By cell, what waits for a vertex beside it.
  const waiting = new Map<number, number[]>();
  const isBeside = new Uint8Array(columns * rows);
  const confirm = (vertex: number, interval: number): void => {
    const x = positions[3 * vertex];
    const y = positions[3 * vertex + 1];
    const z = positions[3 * vertex + 2];
    if (z > floor && (!nearHeld || !hasHeldNear(nearHeld, x, y, z))) begins.add(interval);
  };
  for (let k = 0; k < candidates.length; k += 2) {
    const at = candidates[k];
    const i = candidates[k + 1];
    const t = 3 * lowTriangle[i];
    let lowest = triangles[t];
    for (let corner = t + 1; corner < t + 3; corner++) {
      if (positions[3 * triangles[corner] + 2] < positions[3 * lowest + 2]) lowest = triangles[corner];
    }
    if (!isSinking(lowest)) confirm(lowest, i);
    if (begins.has(i)) continue;
    const list = waiting.get(at);
    if (list) list.push(i);
    else {
      waiting.set(at, [i]);
      markAround(isBeside, at);
    }
  }
  const count = waiting.size > 0 ? positions.length / 3 : 0;
  for (let vertex = 0; vertex < count; vertex++) {
    const column = Math.floor(positions[3 * vertex] / cell - origin[0] / cell);
    const row = Math.floor(positions[3 * vertex + 1] / cell - origin[1] / cell);
    // Rounding may take a vertex on the grid's border past it.
    const isWithin = column >= 0 && row >= 0 && column < columns && row < rows;
    if (isWithin && !isBeside[row * columns + column]) continue;
    const z = positions[3 * vertex + 2];
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
        for (const i of waiting.get(r * columns + c) ?? none) {
          if (z > low[i] + 1e-3 || z < low[i] - 2 * sinkOf(cell, leans[i]) || begins.has(i)) continue;
          if (!isSinking(vertex)) confirm(vertex, i);
        }
      }
    }
  }
  return candidates.flatMap((at, k) =>
    k % 2 === 0 && begins.has(candidates[k + 1]) ? [at, candidates[k + 1]] : [],
  );

  function markAround(marks: Uint8Array, at: number): void {
    const column = at % columns;
    const row = (at - column) / columns;
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++)
        marks[r * columns + c] = 1;
    }
  }

  /** Whether what leans out is held where the surface ends. */
  function hasHeldNear(
    { held, step }: { held: Uint8Array; step: number },
    x: number,
    y: number,
    z: number,
  ): boolean {
    const column = Math.floor((x - origin[0]) / cell);
    const row = Math.floor((y - origin[1]) / cell);
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
