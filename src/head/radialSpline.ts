/** Pole of the cubic B-spline's interpolation filter. */
const POLE = Math.sqrt(3) - 2;
const GAIN = 6;
/** Terms after which the filter's start is exact to 1e-14. */
const HORIZON = 26;

/** Turns the samples of a closed loop into cubic B-spline coefficients in place (periodic recursive filter). */
const filterLoop = (line: Float64Array, n: number): void => {
  const reach = Math.min(HORIZON, n);
  let sum = 0;
  let weight = 1;
  for (let k = 0; k < reach; k++) {
    sum += weight * line[(n - k) % n];
    weight *= POLE;
  }
  line[0] = GAIN * sum;
  for (let k = 1; k < n; k++) line[k] = GAIN * line[k] + POLE * line[k - 1];
  sum = 0;
  weight = 1;
  for (let k = 0; k < reach; k++) {
    sum += weight * line[(n - 1 + k) % n];
    weight *= POLE;
  }
  line[n - 1] = -POLE * sum;
  for (let k = n - 2; k >= 0; k--) line[k] = POLE * (line[k + 1] - line[k]);
};

/** Coefficients in a row of the grid, the border included. */
export const strideOf = (columns: number, whole: boolean): number => columns + (whole ? 3 : 2);

/**
 * Coefficients of the bicubic B-spline that passes through samples on a half sphere (azimuth 0..180 by
 * `columns`, elevation -90..90 by `rows`), mirrored at azimuth 0 and 180 and continued over the poles, with a
 * border of one on each side so that evaluation never wraps: (columns + 2) by (rows + 2). With `whole` the columns
 * go all round, azimuth 0 to 360, an even number of them; the border is then two at the end of each row.
 * The filter is the causal and anticausal recursion of Unser 1999, *Splines: a perfect fit for signal and image
 * processing*, IEEE Signal Processing Magazine 16(6) [from memory].
 */
export const splineCoefficients = (
  samples: Float64Array,
  columns: number,
  rows: number,
  whole = false,
): Float64Array => {
  if (whole) return wholeCoefficients(samples, columns, rows);
  const grid = new Float64Array(samples);
  // Along azimuth: 0 → 180 → back over the mirrored half.
  const around = new Float64Array(2 * columns - 2);
  for (let j = 0; j < rows; j++) {
    const row = j * columns;
    for (let i = 0; i < columns; i++) {
      around[i] = grid[row + i];
      if (i > 0 && i < columns - 1) around[around.length - i] = grid[row + i];
    }
    filterLoop(around, around.length);
    for (let i = 0; i < columns; i++) grid[row + i] = around[i];
  }
  // Along elevation: up one meridian, over the crown, down the opposite one. Opposite of azimuth a is 180 - a
  // in the mirrored half.
  const over = new Float64Array(2 * rows - 2);
  for (let i = 0; 2 * i < columns; i++) {
    const opposite = columns - 1 - i;
    for (let j = 0; j < rows; j++) over[j] = grid[j * columns + i];
    for (let j = 1; j < rows - 1; j++) over[over.length - j] = grid[j * columns + opposite];
    filterLoop(over, over.length);
    for (let j = 0; j < rows; j++) grid[j * columns + i] = over[j];
    for (let j = 0; j < rows; j++) {
      grid[j * columns + opposite] = over[(over.length - j) % over.length];
    }
  }
  const stride = columns + 2;
  const out = new Float64Array(stride * (rows + 2));
  for (let j = -1; j <= rows; j++) {
    const beyond = j < 0 || j >= rows;
    const from = j < 0 ? 1 : j >= rows ? rows - 2 : j;
    for (let i = -1; i <= columns; i++) {
      const mirrored = i < 0 ? 1 : i >= columns ? columns - 2 : i;
      const at = beyond ? columns - 1 - mirrored : mirrored;
      out[(j + 1) * stride + i + 1] = grid[from * columns + at];
    }
  }
  return out;
};

/** The same where the columns go all round: opposite of a column is the one half a turn on. */
const wholeCoefficients = (samples: Float64Array, columns: number, rows: number): Float64Array => {
  const grid = new Float64Array(samples);
  for (let j = 0; j < rows; j++) filterLoop(grid.subarray(j * columns, (j + 1) * columns), columns);
  const half = columns / 2;
  const over = new Float64Array(2 * rows - 2);
  for (let i = 0; i < half; i++) {
    for (let j = 0; j < rows; j++) over[j] = grid[j * columns + i];
    for (let j = 1; j < rows - 1; j++) over[over.length - j] = grid[j * columns + i + half];
    filterLoop(over, over.length);
    for (let j = 0; j < rows; j++) grid[j * columns + i] = over[j];
    for (let j = 0; j < rows; j++) grid[j * columns + i + half] = over[(over.length - j) % over.length];
  }
  const stride = strideOf(columns, true);
  const out = new Float64Array(stride * (rows + 2));
  for (let j = -1; j <= rows; j++) {
    const beyond = j < 0 || j >= rows;
    const from = j < 0 ? 1 : j >= rows ? rows - 2 : j;
    for (let i = -1; i <= columns + 1; i++) {
      const at = (i + columns + (beyond ? half : 0)) % columns;
      out[(j + 1) * stride + i + 1] = grid[from * columns + at];
    }
  }
  return out;
};
