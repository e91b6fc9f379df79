import type { TriangleMesh } from "../../geometry/mesh";
import type { ColumnRaster } from "./columnRaster";
import { cotangent, isCarried, sinkOf, stepOf } from "./rasterSteps";
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
  const sinking = sinkingVertices({ positions, triangles }, slope);
  const begins = new Set<number>();
  const waiting = new Map<number, number[]>();
  const confirm = (vertex: number, interval: number): void => {
    const [x, y, z] = positions.subarray(3 * vertex, 3 * vertex + 3);
    if (z > floor && (!nearHeld || !hasHeldNear(nearHeld, x, y, z))) begins.add(interval);
  };
  for (let k = 0; k < candidates.length; k += 2) {
    const [at, i] = [candidates[k], candidates[k + 1]];
    const corners = triangles.subarray(3 * lowTriangle[i], 3 * lowTriangle[i] + 3);
    let lowest = corners[0];
    for (const corner of corners) if (positions[3 * corner + 2] < positions[3 * lowest + 2]) lowest = corner;
    if (!sinking[lowest]) confirm(lowest, i);
    if (begins.has(i)) continue;
    const list = waiting.get(at);
    if (list) list.push(i);
    else waiting.set(at, [i]);
  }
  for (let vertex = 0; vertex < sinking.length && waiting.size > 0; vertex++) {
    if (sinking[vertex]) continue;
    const column = Math.floor(positions[3 * vertex] / cell - origin[0] / cell);
    const row = Math.floor(positions[3 * vertex + 1] / cell - origin[1] / cell);
    const z = positions[3 * vertex + 2];
    for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
      for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++) {
        for (const i of waiting.get(r * columns + c) ?? []) {
          const most = 2 * sinkOf(cell, leans[i]);
          if (z <= low[i] + 1e-3 && z >= low[i] - most && !begins.has(i)) confirm(vertex, i);
        }
      }
    }
  }
  return candidates.flatMap((at, k) =>
    k % 2 === 0 && begins.has(candidates[k + 1]) ? [at, candidates[k + 1]] : [],
  );

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

/** Which vertices have an edge that sinks from them by at least so much a mm. */
function sinkingVertices({ positions, triangles }: TriangleMesh, slope: number): Uint8Array {
  const sinking = new Uint8Array(positions.length / 3);
  const square = slope * slope;
  for (let t = 0; t < triangles.length; t += 3) {
    let from = triangles[t + 2];
    for (let corner = 0; corner < 3; corner++) {
      const to = triangles[t + corner];
      const drop = positions[3 * from + 2] - positions[3 * to + 2];
      // Each edge belongs to two triangles that follow it in opposite directions: one of them looks down it.
      if (drop > 0 && !sinking[from]) {
        const dx = positions[3 * from] - positions[3 * to];
        const dy = positions[3 * from + 1] - positions[3 * to + 1];
        if (drop * drop >= square * (dx * dx + dy * dy)) sinking[from] = 1;
      }
      from = to;
    }
  }
  return sinking;
}
