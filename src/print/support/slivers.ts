import { firstRunOfCells } from "./cellRuns";
import type { SupportRuns } from "./support";

/** A support is printed no thinner than this, mm: two lines. Common practice, no source. */
const leastThickness = 1;
/** A lower sliver stands as it is, mm. */
const tallSliver = 3;

/**
 * Ends the legs of supports that are thinner than two lines where the rest of the support stands: the fringe that would
 * run down beside an arm because what is held up reaches past the arm's edge by a hair. The foot of a run is raised to
 * the lowest height from which a square of 1 mm about it stands whole (a morphological opening, Serra 1982, from memory);
 * a run that no such square holds ends where one beside it does, to 1 mm from there, and is else left as it is.
 * @returns Those that are left.
 */
export function raiseSlivers(runs: Omit<SupportRuns, "group">): readonly number[] {
  const { count, cell, columns, rows, column, row, bottom, top, onPlate, landing } = runs;
  const side = Math.round(leastThickness / cell);
  if (side < 2) return [];
  const first = firstRunOfCells(runs);
  const raised = bottom.slice();
  const thin: number[] = [];
  for (let i = 0; i < count; i++) {
    let lowest = Infinity;
    for (let r = row[i] - side + 1; r <= row[i] && lowest > bottom[i]; r++) {
      for (let c = column[i] - side + 1; c <= column[i] && lowest > bottom[i]; c++) {
        if (r < 0 || c < 0 || r + side > rows || c + side > columns) continue;
        lowest = squareFoot(i, c, r, lowest);
      }
    }
    if (lowest < Infinity) raised[i] = lowest;
    else thin.push(i);
  }
  const left = raiseTails(thin);
  for (let i = 0; i < count; i++) {
    if (raised[i] - bottom[i] < tallSliver) continue;
    bottom[i] = raised[i];
    onPlate[i] = 0;
    landing[i] = 0;
  }
  return left;

  /** Runs that no square holds end where the lowest of what is beside them ends. */
  function raiseTails(tails: readonly number[]): readonly number[] {
    const waits = new Uint8Array(count);
    for (const i of tails) waits[i] = 1;
    let left = tails;
    for (let step = 0; step < side && left.length > 0; step++) {
      const feet = left.map((i) => footBeside(i, waits));
      left.forEach((i, k) => {
        if (feet[k] === Infinity) return;
        raised[i] = Math.max(bottom[i], feet[k]);
        waits[i] = 0;
      });
      left = left.filter((i) => waits[i]);
    }
    return left;
  }

  function footBeside(i: number, waits: Uint8Array): number {
    let lowest = Infinity;
    const look = (c: number, r: number): void => {
      if (c < 0 || r < 0 || c >= columns || r >= rows) return;
      const at = r * columns + c;
      for (let j = first[at]; j < first[at + 1]; j++) {
        if (!waits[j] && raised[j] < top[i] && bottom[i] < top[j]) lowest = Math.min(lowest, raised[j]);
      }
    };
    look(column[i] + 1, row[i]);
    look(column[i] - 1, row[i]);
    look(column[i], row[i] + 1);
    look(column[i], row[i] - 1);
    return lowest;
  }

  /** The height from which all of a square of cells stands beside a run, or `most` where that is lower. */
  function squareFoot(run: number, fromColumn: number, fromRow: number, most: number): number {
    let foot = bottom[run];
    for (let r = fromRow; r < fromRow + side; r++) {
      for (let c = fromColumn; c < fromColumn + side; c++) {
        const at = r * columns + c;
        let own = Infinity;
        for (let j = first[at]; j < first[at + 1]; j++) {
          if (bottom[j] < top[run] && bottom[run] < top[j]) {
            own = bottom[j];
            break;
          }
        }
        if (own >= most) return most;
        if (own > foot) foot = own;
      }
    }
    return foot < top[run] ? foot : most;
  }
}
