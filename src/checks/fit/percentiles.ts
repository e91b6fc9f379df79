/**
 * Values below which given shares (0 to 1) of the whole weight lie; by straight lines between the middles of the
 * sorted weights. One value, or all alike, gives that value for every share; none gives an empty list.
 */
export function weightedPercentiles(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  shares: readonly number[],
): number[] {
  const order = Uint32Array.from({ length: values.length }, (_, i) => i)
    .filter((i) => weights[i] > 0)
    .sort((a, b) => values[a] - values[b]);
  if (order.length === 0) return [];
  let whole = 0;
  for (const i of order) whole += weights[i];
  return shares.map((share) => {
    const wanted = share * whole;
    let before = 0;
    let [lastMiddle, lastValue] = [0, values[order[0]]];
    for (const i of order) {
      const middle = before + weights[i] / 2;
      if (middle >= wanted) {
        const t = middle > lastMiddle ? (wanted - lastMiddle) / (middle - lastMiddle) : 1;
        return lastValue + t * (values[i] - lastValue);
      }
      before += weights[i];
      [lastMiddle, lastValue] = [middle, values[i]];
    }
    return lastValue;
  });
}
