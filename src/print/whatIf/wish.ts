import type { PrintFigures } from "./evaluations";

/** What a wish may bound. */
export const wishFigures = ["hours", "grams", "metres", "price", "spools", "factor"] as const;
export type WishFigure = (typeof wishFigures)[number];

/** One bound: the factor of the weakest arm from below, everything else from above. */
export interface WishCondition {
  readonly figure: WishFigure;
  /** In hours, grams, metres, the workshop's currency, spools; the factor has no unit. */
  readonly limit: number;
  /** The limit itself does not do. */
  readonly isStrict: boolean;
  /** As it was written. */
  readonly text: string;
}

/** What a print should take at most, and its weakest arm bear at least. All conditions hold together. */
export interface Wish {
  readonly conditions: readonly WishCondition[];
}

/**
 * What a condition is held against; undefined where a price is not known. The factor is infinite where there is no arm to
 * break.
 */
export const figureOf = (figures: PrintFigures, figure: WishFigure): number | undefined =>
  figure === "factor" ? (figures.weakest?.factor ?? Infinity) : figures[figure];

/** By how much of the limit a value misses it, 0 where it holds. A strict limit that is just reached is missed by least. */
export function relativeExcess({ figure, limit, isStrict }: WishCondition, value: number): number {
  const missing = figure === "factor" ? limit - value : value - limit;
  if (missing > 0) return missing / limit;
  return isStrict && missing === 0 ? Number.EPSILON : 0;
}
