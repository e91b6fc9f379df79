/** Of each cell of a grid the greatest value of it and the eight round it; the grid lies row by row. */
export const greatestAround = (values: Float32Array, columns: number, rows: number): Float32Array =>
  around(values, columns, rows, Math.max);

/** The same of the least. */
export const leastAround = (values: Float32Array, columns: number, rows: number): Float32Array =>
  around(values, columns, rows, Math.min);

/** Of the three in a row, then of three such rows. */
function around(
  values: Float32Array,
  columns: number,
  rows: number,
  pick: (a: number, b: number) => number,
): Float32Array {
  const inRow = values.slice();
  for (let row = 0; row < rows; row++) {
    for (let at = row * columns; at < (row + 1) * columns - 1; at++) {
      inRow[at] = pick(inRow[at], values[at + 1]);
      inRow[at + 1] = pick(values[at + 1], values[at]);
    }
  }
  const found = inRow.slice();
  for (let at = 0; at < columns * (rows - 1); at++) {
    found[at] = pick(found[at], inRow[at + columns]);
    found[at + columns] = pick(inRow[at + columns], inRow[at]);
  }
  return found;
}
