import type { ColumnRaster } from "./columnRaster";
import { across, along, stepOf } from "./rasterSteps";
import { Scratch } from "./scratch";
import { leaning, reached } from "./undersideKinds";

/**
 * A patch is left out when all of it lies within this distance of a surface lower down beside it that carries itself, mm:
 * plastic reaches 0.5 to 1.5 mm out unsupported (Mazlan et al. 2020, JAITA). At least one cell.
 */
const unsupportedReach = 1;

const patchRoom = new Scratch(Int32Array);
const cellsRoom = new Scratch(Int32Array);

/** Takes out patches all of which is reached from what carries itself beside them. */
export function leaveReachedPatches(raster: ColumnRaster, held: Uint8Array, overhangAngle: number): void {
  const { columns, rows, first, low, high, cell } = raster;
  const step = stepOf(cell, overhangAngle);
  const reach = Math.min(200, Math.max(1, Math.floor(unsupportedReach / cell + 1e-9)));
  // 0 not walked yet, else 1 + steps from what carries itself; `far` where that is more than the reach.
  const steps = new Uint8Array(low.length);
  const far = reach + 2;
  // Patches stand in it one after another, each from `begin`.
  const patch = patchRoom.take(low.length);
  const cells = cellsRoom.take(low.length);
  let end = 0;
  let edge: number[] = [];
  for (let at = 0; at < columns * rows; at++) {
    for (let start = first[at]; start < first[at + 1]; start++) {
      if (held[start] !== leaning || steps[start]) continue;
      const begin = end;
      edge.length = 0;
      patch[end] = start;
      cells[end++] = at;
      steps[start] = far;
      for (let k = begin; k < end; k++) {
        const from = low[patch[k]];
        const column = cells[k] % columns;
        const row = (cells[k] - column) / columns;
        let isCarried = false;
        // Over the four with a side in common patches spread; those at the corners may only carry.
        for (let side = 0; side < 8 && !(isCarried && side >= 4); side++) {
          const c = column + across[side];
          const r = row + along[side];
          if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
          const next = r * columns + c;
          for (let i = first[next]; i < first[next + 1]; i++) {
            const sinks = from - low[i];
            if (-sinks > step) break;
            if (held[i] !== leaning || Math.abs(sinks) > step) isCarried ||= sinks > 0 && high[i] >= from;
            else if (!steps[i] && side < 4) {
              steps[i] = far;
              patch[end] = i;
              cells[end++] = next;
            }
          }
        }
        if (isCarried) {
          steps[patch[k]] = 2;
          edge.push(patch[k], cells[k]);
        }
      }
      let count = edge.length / 2;
      for (let away = 1; away < reach && count < end - begin; away++) {
        const onward: number[] = [];
        for (let k = 0; k < edge.length; k += 2) {
          const column = edge[k + 1] % columns;
          const row = (edge[k + 1] - column) / columns;
          for (let side = 0; side < 4; side++) {
            const c = column + across[side];
            const r = row + along[side];
            if (c < 0 || r < 0 || c >= columns || r >= rows) continue;
            const next = r * columns + c;
            for (let i = first[next]; i < first[next + 1]; i++) {
              if (steps[i] !== far || Math.abs(low[i] - low[edge[k]]) > step) continue;
              steps[i] = 2 + away;
              onward.push(i, next);
              count++;
            }
          }
        }
        edge = onward;
      }
      if (count === end - begin) for (let k = begin; k < end; k++) held[patch[k]] = reached;
    }
  }
}
