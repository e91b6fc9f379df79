/** A line through points x, y in turn, in pixels; closed lines do not repeat their first point. */
export interface Line {
  readonly points: number[];
  readonly closed: boolean;
}

/**
 * The closed lines along which a field of `width` × `height` samples passes a level, with the samples below the level on
 * one side throughout (marching squares: Lorensen & Cline 1987 in the plane; linear between samples). Points
 * are in pixels: sample (i, j) lies at (i + ½, j + ½). Beyond the rim the field counts as above the level.
 */
export function contours(field: Float32Array, width: number, height: number, level: number): Line[] {
  const lines: Line[] = [];
  // Each crossed side of a cell is visited once: sides are numbered by their first sample, level (0) or upright (1).
  const used = new Uint8Array(2 * (width + 2) * (height + 2));
  const at = (i: number, j: number): number =>
    i < 0 || j < 0 || i >= width || j >= height ? Infinity : field[j * width + i];
  const below = (i: number, j: number): boolean => at(i, j) < level;
  const side = (i: number, j: number, upright: number): number =>
    2 * ((j + 1) * (width + 2) + i + 1) + upright;
  const crossing = (i: number, j: number, k: number, l: number, to: number[]): void => {
    const a = at(i, j);
    const b = at(k, l);
    const t = a === Infinity ? 0.5 : b === Infinity ? 0.5 : (level - a) / (b - a);
    to.push(i + (k - i) * t + 0.5, j + (l - j) * t + 0.5);
  };
  for (let j = 0; j < height; j++) {
    const row = j * width;
    for (let i = 0; i < width; i++) {
      // Start where a side from (i, j) to (i + 1, j) passes from below to above.
      if (field[row + i] >= level || (i + 1 < width && field[row + i + 1] < level)) continue;
      if (used[side(i, j, 0)] === 1) continue;
      const points: number[] = [];
      // Walk with the low samples on the left hand: p is low, q is high, both ends of the crossed side.
      let [pi, pj, qi, qj] = [i, j, i + 1, j];
      for (;;) {
        const name = pj === qj ? side(Math.min(pi, qi), pj, 0) : side(pi, Math.min(pj, qj), 1);
        if (used[name] === 1) break;
        used[name] = 1;
        crossing(pi, pj, qi, qj, points);
        // The next cell lies to the one hand of p → q.
        const [nx, ny] = [-(qj - pj), qi - pi];
        const lowAhead = below(pi + nx, pj + ny);
        const highAhead = below(qi + nx, qj + ny);
        if (!lowAhead) [qi, qj] = [pi + nx, pj + ny];
        else if (!highAhead) [pi, pj, qi, qj] = [pi + nx, pj + ny, qi + nx, qj + ny];
        else [pi, pj] = [qi + nx, qj + ny];
      }
      if (points.length >= 6) lines.push({ points, closed: true });
    }
  }
  return lines;
}
