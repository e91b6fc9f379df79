/** Rounded to some decimals; never −0. */
export function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

/** Rounded to six significant digits: small pieces keep theirs, large ones do not flutter. */
export const significant = (value: number): number => Number(value.toPrecision(6)) + 0;

/** The same object with its keys in one order; others, and absent ones, left out. */
export function orderedKeys<T extends object>(object: T, keys: readonly (keyof T)[]): T {
  return Object.fromEntries(
    keys.filter((key) => object[key] !== undefined).map((key) => [key, object[key]]),
  ) as T;
}

/** Thousands set apart by a comma: `136,000`. */
export const grouped = (count: number): string => String(count).replace(/\B(?=(\d{3})+$)/g, ",");
