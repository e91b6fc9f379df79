import type { DimensionLine, Spot } from "./dimensionLayout";
import { svgElement } from "./svg";

/** Length and half width of an arrow head, CSS pixels. */
const arrow = { length: 8, half: 2.6 };

/** The dimension lines as a drawing over the picture. */
export class Dimensions {
  readonly element = svgElement("svg", { class: "scene-dimensions", "aria-hidden": "true" });

  show(lines: readonly DimensionLine[]): void {
    this.element.replaceChildren(...lines.flatMap(drawn));
  }
}

/** The two arrow heads of a dimension line: corners of each. */
export function arrowHeads({ from, to }: Pick<DimensionLine, "from" | "to">): Spot[][] {
  const length = Math.hypot(to.x - from.x, to.y - from.y) || 1;
  const [ux, uy] = [(to.x - from.x) / length, (to.y - from.y) / length];
  const head = (tip: Spot, way: number): Spot[] =>
    [
      [0, 0],
      [arrow.length, arrow.half],
      [arrow.length, -arrow.half],
    ].map(([back, side]) => ({
      x: tip.x + way * back * ux - side * uy,
      y: tip.y + way * back * uy + side * ux,
    }));
  return [head(from, 1), head(to, -1)];
}

function drawn(line: DimensionLine): SVGElement[] {
  const segment = (from: Spot, to: Spot) =>
    svgElement("line", { x1: from.x, y1: from.y, x2: to.x, y2: to.y });
  return [
    ...line.extensions.map(([from, to]) => segment(from, to)),
    segment(line.from, line.to),
    ...arrowHeads(line).map((corners) =>
      svgElement("polygon", { points: corners.map(({ x, y }) => `${x},${y}`).join(" ") }),
    ),
    svgElement("text", { x: line.label.x, y: line.label.y }, line.text),
  ];
}
