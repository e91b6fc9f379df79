import { fieldColour, fieldRange, fieldSummary, fieldTicks } from "../fieldScale";
import type { FieldMessage } from "../protocol";
import { make, setText } from "./dom";
import { plainNumber } from "./numbers";
import { svgNode, svgText } from "./svgNodes";
import { fieldText } from "./wearWords";

/** Measures of the scale, CSS pixels. */
const bar = { x: 1, top: 8, width: 16, height: 156 } as const;

/** Steps that the bar is drawn in: nought is the end of one. */
const strips = 52;

/** What the colours of the gaps mean: a scale in mm, and the same in words. */
export function makeFieldLegend(): {
  readonly element: HTMLElement;
  /** The field of what is shown; `isThere`: the picture has its colours already. Undefined hides the legend. */
  update(shown: { readonly field: FieldMessage | undefined; readonly isThere: boolean } | undefined): void;
} {
  const title = make("figcaption", { class: "legend-title", text: "Gap to the head" });
  const unit = make("span", { class: "legend-unit", text: "mm", attributes: { "aria-hidden": "true" } });
  const waiting = make("p", { class: "legend-waiting", text: "Waiting for the checks…" });
  const words = make("p", { class: "visually-hidden" });
  const scale = make("div", { class: "legend-scale", attributes: { "aria-hidden": "true" } }, drawnScale());
  const element = make(
    "figure",
    { id: "field-legend", class: "field-legend", attributes: { hidden: true, "aria-label": "Gap colours" } },
    title,
    unit,
    scale,
    words,
    waiting,
  );
  let told: FieldMessage | undefined;
  return {
    element,
    update(shown) {
      element.hidden = shown === undefined;
      if (shown === undefined) return;
      const { field, isThere } = shown;
      waiting.hidden = isThere;
      scale.classList.toggle("is-waiting", !isThere);
      words.hidden = !isThere;
      if (field === undefined || field === told || !isThere) return;
      told = field;
      setText(title, field.title);
      setText(unit, field.unit);
      setText(
        words,
        `Dark violet and striped: it enters the head. 0, blue: it touches the bare head. Pale yellow: ${fieldRange.most} mm and more. ${fieldText(field.title, fieldSummary(new Int16Array(field.values)))}`,
      );
    },
  };
}

function drawnScale(): SVGSVGElement {
  const high = bar.height + 2 * bar.top;
  const svg = svgNode("svg", {
    width: 164,
    height: high,
    preserveAspectRatio: "xMinYMin slice",
    viewBox: `0 0 164 ${high}`,
    class: "legend-svg",
  });
  const { least, most } = fieldRange;
  const yOf = (mm: number) => bar.top + (bar.height * (most - mm)) / (most - least);
  const step = (most - least) / strips;
  for (let i = 0; i < strips; i++) {
    const mm = least + i * step;
    const fill = `rgb(${fieldColour(mm + step / 2)
      .map((value) => Math.round(255 * value))
      .join(",")})`;
    svg.append(
      // A little of each lies under the next, so that no gap shows between them.
      svgNode("rect", {
        x: bar.x,
        y: yOf(mm + step),
        width: bar.width,
        height: bar.height / strips + (i === 0 ? 0 : 0.6),
        fill,
      }),
    );
  }
  // What enters is striped, as on the piece.
  for (let y = yOf(0) + 5; y < yOf(least) + bar.width; y += 6) {
    const from = Math.min(y, yOf(least));
    const to = Math.max(y - bar.width, yOf(0));
    svg.append(
      svgNode("line", {
        class: "legend-stripe",
        x1: bar.x + (y - from),
        y1: from,
        x2: bar.x + (y - to),
        y2: to,
      }),
    );
  }
  svg.append(
    svgNode("rect", { class: "legend-frame", x: bar.x, y: bar.top, width: bar.width, height: bar.height }),
  );
  for (const mm of fieldTicks) {
    const y = yOf(mm);
    svg.append(svgNode("line", { class: "legend-tick", x1: bar.width + 1, y1: y, x2: bar.width + 6, y2: y }));
    svg.append(svgText(bar.width + 10, y, `${plainNumber(mm)}${mm === most ? "+" : ""}`, "legend-number"));
  }
  const zero = yOf(0);
  const below = (zero + yOf(least)) / 2 + 4;
  svg.append(
    svgText(bar.width + 20, zero, "touches the bare head", "is-long"),
    svgText(bar.width + 20, zero, "touches", "is-short"),
    svgText(bar.width + 10, below, "enters the head", "is-long"),
    svgText(bar.width + 10, below, "enters", "is-short"),
  );
  return svg;
}
