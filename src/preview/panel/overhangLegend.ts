import { bandColour, bandEdges, firstStriped, overhangBands } from "../overhangScale";
import { make, setText } from "./dom";
import { plainNumber } from "./numbers";
import { svgNode, svgText } from "./svgNodes";

/** Measures of the scale, CSS pixels. */
const bar = { x: 1, top: 8, width: 16, band: 22 } as const;

/** What the colours of the overhangs mean: bands in degrees, and the same in words. */
export function makeOverhangLegend(): {
  readonly element: HTMLElement;
  /** The angle that a surface may lean out without being held up, degrees; undefined hides the legend. */
  update(limit: number | undefined): void;
} {
  const scale = make("div", { class: "legend-scale", attributes: { "aria-hidden": "true" } });
  const words = make("p", { class: "visually-hidden" });
  const element = make(
    "figure",
    {
      id: "overhang-legend",
      class: "field-legend",
      attributes: { hidden: true, "aria-label": "Overhang colours" },
    },
    make("figcaption", { class: "legend-title", text: "Leans out" }),
    make("span", { class: "legend-unit", text: "°", attributes: { "aria-hidden": "true" } }),
    scale,
    words,
  );
  let shown: number | undefined;
  return {
    element,
    update(limit) {
      element.hidden = limit === undefined;
      if (limit === undefined || limit === shown) return;
      shown = limit;
      scale.replaceChildren(drawnBands(limit));
      setText(words, legendWords(limit));
    },
  };
}

/** The legend in words. */
export function legendWords(limit: number): string {
  const edges = bandEdges(limit).map(degrees);
  if (edges.length === 0) return "No surface leans out so far that it is held up.";
  return `Ochre: leans out by more than ${edges[0]} degrees from the vertical and is held up. Each darker colour leans out farther, from ${edges.slice(1, -1).join(", ")} degrees on. Dark violet and striped: nearly a level ceiling, ${edges.at(-1)} degrees.`;
}

const degrees = (angle: number): string => plainNumber(angle, 0);

function drawnBands(limit: number): SVGSVGElement {
  const edges = bandEdges(limit);
  const count = edges.length === 0 ? 0 : overhangBands;
  const high = bar.band * count + 2 * bar.top;
  const svg = svgNode("svg", {
    width: 164,
    height: high,
    preserveAspectRatio: "xMinYMin slice",
    viewBox: `0 0 164 ${high}`,
    class: "legend-svg",
  });
  const yOf = (edge: number) => bar.top + bar.band * (count - edge);
  for (let band = 0; band < count; band++) {
    const fill = `rgb(${bandColour(band)
      .map((value) => Math.round(255 * value))
      .join(",")})`;
    svg.append(
      svgNode("rect", {
        class: "legend-band",
        x: bar.x,
        y: yOf(band + 1),
        width: bar.width,
        height: bar.band,
        fill,
      }),
    );
    if (band < firstStriped) continue;
    for (let offset = 3; offset < bar.band + bar.width; offset += 6) {
      const from = Math.min(offset, bar.band);
      const to = Math.max(offset - bar.width, 0);
      svg.append(
        svgNode("line", {
          class: "legend-stripe",
          x1: bar.x + (offset - from),
          y1: yOf(band + 1) + from,
          x2: bar.x + (offset - to),
          y2: yOf(band + 1) + to,
        }),
      );
    }
  }
  svg.append(
    svgNode("rect", {
      class: "legend-frame",
      x: bar.x,
      y: bar.top,
      width: bar.width,
      height: bar.band * count,
    }),
  );
  for (const [i, edge] of edges.entries()) {
    const y = yOf(i);
    svg.append(svgNode("line", { class: "legend-tick", x1: bar.width + 1, y1: y, x2: bar.width + 6, y2: y }));
    svg.append(svgText(bar.width + 10, y, degrees(edge), "legend-number"));
  }
  if (count > 0) {
    svg.append(
      svgText(bar.width + 28, yOf(count), "a level ceiling", "is-long"),
      svgText(bar.width + 28, yOf(count), "level", "is-short"),
      svgText(bar.width + 28, yOf(0), "is held up from here", "is-long"),
      svgText(bar.width + 28, yOf(0), "held", "is-short"),
    );
  } else svg.append(svgText(0, bar.top, "nothing is held up", "legend-number"));
  return svg;
}
