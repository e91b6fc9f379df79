import { sortedOrder } from "./sortedOrder";

/**
 * Values below which given shares (0 to 1) of the whole weight lie; by straight lines between the middles of the
 * sorted weights. One value, or all alike, gives that value for every share; none gives an empty list.
 */
export function weightedPercentiles(
  values: ArrayLike<number>,
  weights: ArrayLike<number>,
  shares: readonly number[],
): number[] {
  const order = sortedOrder(values);
  let count = 0;
  let whole = 0;
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    if (!(weights[i] > 0)) continue;
    order[count++] = i;
    whole += weights[i];
  }
  if (count === 0) return [];
  return shares.map((share) => {
    const wanted = share * whole;
    let before = 0;
    let lastMiddle = 0;
    let lastValue = values[order[0]];
    for (let k = 0; k < count; k++) {
      const value = values[order[k]];
      const weight = weights[order[k]];
      const middle = before + weight / 2;
      if (middle >= wanted) {
        const t = middle > lastMiddle ? (wanted - lastMiddle) / (middle - lastMiddle) : 1;
        return lastValue + t * (value - lastValue);
      }
      before += weight;
      lastMiddle = middle;
      lastValue = value;
    }
    return lastValue;
  });
}
