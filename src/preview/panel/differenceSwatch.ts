import { addedColour, cssOf, removedColour, removedLine } from "../differenceColours";
import { svgNode } from "./svgNodes";

const size = 14;

/** The sign of what was added (filled) or removed (hatched), as the picture colours it; for the eye alone. */
export function differenceSwatch(kind: "added" | "removed"): SVGSVGElement {
  const svg = svgNode("svg", {
    class: `swatch is-${kind}`,
    width: size,
    height: size,
    viewBox: `0 0 ${size} ${size}`,
    "aria-hidden": "true",
  });
  const fill = cssOf(kind === "added" ? addedColour : removedColour);
  svg.append(
    svgNode("rect", {
      class: "swatch-frame",
      x: 0.5,
      y: 0.5,
      width: size - 1,
      height: size - 1,
      rx: 2,
      fill,
    }),
  );
  if (kind === "added") return svg;
  for (let offset = 4; offset < 2 * size; offset += 5) {
    const from = Math.min(offset, size - 1);
    const to = Math.max(offset - size + 1, 1);
    svg.append(
      svgNode("line", {
        x1: offset - from,
        y1: from,
        x2: offset - to,
        y2: to,
        stroke: cssOf(removedLine),
        "stroke-width": 1.6,
      }),
    );
  }
  return svg;
}
