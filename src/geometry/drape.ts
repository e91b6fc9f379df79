/**
 * The lowest line over `heights` that nowhere bends upward tighter than `radius`: a morphological closing with a parabola
 * of that radius at its vertex (Serra 1982, "Image analysis and mathematical morphology"). A stiff rope over steps.
 * `step`: distance between neighbours, mm; `closed`: the last is the neighbour of the first.
 */
export function drape(heights: Float64Array, step: number, radius: number, closed: boolean): Float64Array {
  const count = heights.length;
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const h of heights) {
    least = Math.min(least, h);
    most = Math.max(most, h);
  }
  // Farther away the parabola has fallen below everything.
  const window = Math.min(count - 1, Math.ceil(Math.sqrt(2 * radius * (most - least)) / step));
  const fall = Float64Array.from({ length: window + 1 }, (_, j) => (j * step * (j * step)) / (2 * radius));
  const raised = new Float64Array(count);
  const result = new Float64Array(count);
  const at = (k: number) => (closed ? ((k % count) + count) % count : k);
  // Both look outward and stop where even the highest (the lowest) line could change nothing any more.
  for (let k = 0; k < count; k++) {
    let top = heights[k];
    for (let j = 1; j <= window && most - fall[j] > top; j++) {
      if (closed || k >= j) top = Math.max(top, heights[at(k - j)] - fall[j]);
      if (closed || k + j < count) top = Math.max(top, heights[at(k + j)] - fall[j]);
    }
    raised[k] = top;
  }
  for (let k = 0; k < count; k++) {
    let low = raised[k];
    for (let j = 1; j <= window && least + fall[j] < low; j++) {
      if (closed || k >= j) low = Math.min(low, raised[at(k - j)] + fall[j]);
      if (closed || k + j < count) low = Math.min(low, raised[at(k + j)] + fall[j]);
    }
    result[k] = Math.max(low, heights[k]);
  }
  return result;
}

/**
 * A smooth line that is nowhere below `heights`: each value spread over its neighbours up to `reach` away, then averaged
 * over as many. The height of a level or of a single summit stays exact.
 */
export function smoothAbove(heights: Float64Array, reach: number, closed: boolean): Float64Array {
  const count = heights.length;
  const at = (k: number) => (closed ? ((k % count) + count) % count : Math.min(count - 1, Math.max(0, k)));
  const over = (from: Float64Array, join: (sum: number, value: number) => number, first: number) =>
    from.map((_, k) => {
      let sum = first;
      for (let j = -reach; j <= reach; j++) sum = join(sum, from[at(k + j)]);
      return sum;
    });
  const spread = over(heights, Math.max, Number.NEGATIVE_INFINITY);
  return over(spread, (sum, value) => sum + value, 0).map((sum, k) =>
    Math.max(heights[k], sum / (2 * reach + 1)),
  );
}
