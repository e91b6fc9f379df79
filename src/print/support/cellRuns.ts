import type { SupportRuns } from "./support";

/**
 * First run of each cell (row · columns + column), for runs that come in the order of their cells; one number more than
 * cells.
 */
export function firstRunOfCells({
  count,
  column,
  row,
  columns,
  rows,
}: Pick<SupportRuns, "count" | "column" | "row" | "columns" | "rows">): Int32Array {
  const first = new Int32Array(columns * rows + 1);
  for (let i = 0; i < count; i++) first[row[i] * columns + column[i] + 1]++;
  for (let cell = 0; cell < columns * rows; cell++) first[cell + 1] += first[cell];
  return first;
}
