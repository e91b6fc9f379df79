import { type Box, cornersOf } from "./bounds";
import type { Vector } from "./vector";

/** A point of the picture, CSS pixels from its upper left corner. */
export interface Spot {
  readonly x: number;
  readonly y: number;
}

/** One dimension as it is drawn. */
export interface DimensionLine {
  readonly axis: "width" | "depth" | "height";
  readonly from: Spot;
  readonly to: Spot;
  /** From the box's corners out past the line. */
  readonly extensions: readonly (readonly [Spot, Spot])[];
  readonly label: Spot;
  /** For example "187.4 mm". */
  readonly text: string;
}

/** The line stands this far off the box, CSS pixels. */
const lineGap = 20;

/** Half the label and some air, CSS pixels: what it keeps from a level and from an upright line. */
const labelGap = { level: 13, upright: 34 };

/** A side shorter than this in the picture is looked at end on: its dimension is left out, CSS pixels. */
const leastLength = 24;

const names = ["width", "depth", "height"] as const;

/**
 * Dimension lines of a box: each axis at that of its four edges which lies furthest out in the picture, the lower one
 * of two alike.
 */
export function dimensionLines(box: Box, project: (point: Vector) => Spot): DimensionLine[] {
  const corners = cornersOf(box);
  const spots = Array.from({ length: 8 }, (_, i) =>
    project([corners[3 * i], corners[3 * i + 1], corners[3 * i + 2]]),
  );
  const middle = mean(spots);
  return names.flatMap((axis, a) => {
    const bit = 1 << a;
    const edges = [0, 1, 2, 3, 4, 5, 6, 7]
      .filter((i) => !(i & bit))
      .map((i) => [spots[i], spots[i | bit]] as const);
    const [from, to] = best(edges, (edge) => prominence(edge, middle));
    const length = Math.hypot(to.x - from.x, to.y - from.y);
    if (length < leastLength) return [];
    const out = outward(from, to, middle);
    const off = (spot: Spot, distance: number): Spot => ({
      x: spot.x + distance * out.x,
      y: spot.y + distance * out.y,
    });
    const line: DimensionLine = {
      axis,
      from: off(from, lineGap),
      to: off(to, lineGap),
      extensions: [
        [off(from, 4), off(from, lineGap + 5)],
        [off(to, 4), off(to, lineGap + 5)],
      ],
      label: off(mean([from, to]), lineGap + Math.hypot(out.x * labelGap.upright, out.y * labelGap.level)),
      text: `${(box.most[a] - box.least[a]).toFixed(1)} mm`,
    };
    return [line];
  });
}

/** Distance of an edge's middle from the picture of the box's middle; lower ones are preferred. */
function prominence([from, to]: readonly [Spot, Spot], middle: Spot): number {
  const at = mean([from, to]);
  return Math.hypot(at.x - middle.x, at.y - middle.y) + 0.3 * (at.y - middle.y);
}

/** Unit direction across an edge, away from the middle. */
function outward(from: Spot, to: Spot, middle: Spot): Spot {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const across = { x: (to.y - from.y) / length, y: (from.x - to.x) / length };
  const at = mean([from, to]);
  const side = across.x * (at.x - middle.x) + across.y * (at.y - middle.y);
  return side < 0 ? { x: -across.x, y: -across.y } : across;
}

const best = <T>(items: readonly T[], score: (item: T) => number): T =>
  items.reduce((found, item) => (score(item) > score(found) + 1e-6 ? item : found));

const mean = (spots: readonly Spot[]): Spot => ({
  x: spots.reduce((sum, { x }) => sum + x, 0) / spots.length,
  y: spots.reduce((sum, { y }) => sum + y, 0) / spots.length,
});
