import { screenColour } from "./fieldScale";

/**
 * The colours of what was added to a piece and what was removed from it: blue and orange, which eyes with any colour
 * vision tell apart, of different lightness, and removed matter hatched besides.
 */

/** Red, green, blue, 0 to 1, as they stand on the screen (sRGB). */
type ScreenColour = readonly [red: number, green: number, blue: number];

/** What only the piece of now has. */
export const addedColour: ScreenColour = screenColour(46, 50, 268);

/** What only the old piece had. */
export const removedColour: ScreenColour = screenColour(61, 74, 57);

/** The lines over what was removed. */
export const removedLine: ScreenColour = screenColour(34, 50, 45);

/** A colour as CSS writes it. */
export const cssOf = (colour: ScreenColour): string =>
  `rgb(${colour.map((value) => Math.round(255 * value)).join(", ")})`;

/** How the two pieces are painted at a place of the slider between them. */
export interface ComparisonManner {
  /** The old piece stands as matter, and that of now is the ghost. */
  readonly isOldMatter: boolean;
  /** Of what was added and removed, 0 to 1: all of it in the middle, nothing at the ends. */
  readonly differences: number;
  /** Of the piece that is not matter, 0 to 1. */
  readonly ghost: number;
}

/**
 * From the old piece (0) to that of now (1). In the middle both stand, with all that differs in its colour; to either
 * end the other fades. What they share never changes, so that nothing flickers where the matter becomes the other.
 */
export function comparisonManner(share: number): ComparisonManner {
  const held = Math.min(1, Math.max(0, share));
  const away = 1 - Math.abs(2 * held - 1);
  return { isOldMatter: held < 0.5, differences: away, ghost: away };
}
