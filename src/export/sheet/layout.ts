import type { Extent, View } from "./projection";

/** A3 landscape, mm (ISO 216), with its frame. */
export const sheet = { width: 420, height: 297, frame: 10 } as const;

/** Reductions, largest drawing first: those of ISO 5455 with the usual ones between. */
export const reductions = [0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 7.5, 10, 15, 20, 30, 50, 100] as const;

/** Room for dimensions and titles about each view, mm of paper. */
const margin = { beside: 22, between: 24, above: 15, below: 16 };
/** Height of the strip with the title block and the cautions, mm. */
export const strip = 40;

export interface Placed {
  readonly view: View;
  /** What of the world is drawn, mm. */
  readonly window: Extent;
  /** Paper mm of its left top corner. */
  readonly at: readonly [number, number];
  readonly reduction: number;
}

const widthOf = (window: Extent): number => window.right - window.left;
const heightOf = (window: Extent): number => window.top - window.bottom;

/**
 * Places front, side and top views in first-angle projection (ISO 5456-2: the side beside the front, the top below it), at
 * the largest usual scale at which they leave room for dimensions and the title strip.
 */
export function placeViews(
  front: { view: View; window: Extent },
  side: { view: View; window: Extent },
  top: { view: View; window: Extent },
): { placed: [Placed, Placed, Placed]; reduction: number; free: Extent; freeBelowSide: Extent } {
  const { width, height, frame } = sheet;
  const wide = Math.max(widthOf(front.window), widthOf(top.window)) + widthOf(side.window);
  const high = heightOf(front.window) + heightOf(top.window);
  const roomWide = 0.68 * (width - 2 * frame) - margin.beside - margin.between;
  const roomHigh = height - 2 * frame - margin.above - 2 * margin.below;
  const reduction =
    reductions.find((n) => wide / n <= roomWide && high / n <= roomHigh) ??
    Math.ceil(Math.max(wide / roomWide, high / roomHigh));
  const column = Math.max(widthOf(front.window), widthOf(top.window)) / reduction;
  const left = frame + margin.beside;
  const firstRow = frame + margin.above;
  const spare = Math.max(0, roomHigh - high / reduction);
  const secondRow = firstRow + heightOf(front.window) / reduction + margin.below + 0.5 * spare;
  // The middle of the head lies at the origin: views that share an axis line up on it.
  const axis = left + Math.max(-front.window.left, -top.window.left) / reduction;
  const placed: [Placed, Placed, Placed] = [
    { ...front, at: [axis + front.window.left / reduction, firstRow], reduction },
    {
      ...side,
      at: [left + column + margin.between, firstRow + (front.window.top - side.window.top) / reduction],
      reduction,
    },
    { ...top, at: [axis + top.window.left / reduction, secondRow], reduction },
  ];
  const right = left + column + margin.between + widthOf(side.window) / reduction + margin.between / 2;
  const foot = height - frame - strip - 16;
  return {
    placed,
    reduction,
    free: { left: right, right: width - frame - 6, top: frame + 12, bottom: foot },
    freeBelowSide: {
      left: left + column + margin.between,
      right: right - margin.between / 2,
      top: secondRow,
      bottom: foot - 1,
    },
  };
}
