import { svgNode } from "../../preview/panel/svgNodes";

/** Signs, 16 by 16, in lines that take the text's colour; one that starts with "fill:" is filled. */
const drawings = {
  check: ["M2.5 8.5 6 12l7.5-8"],
  warning: ["M8 2 14.5 13.5h-13z", "M8 6.3v3.4", "fill:M7.3 10.8h1.4v1.3H7.3z"],
  stop: ["M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z", "M4.5 8h7"],
  cross: ["M3.5 3.5l9 9", "M12.5 3.5l-9 9"],
  note: ["M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z", "M8 7.2v4", "fill:M7.3 4.5h1.4v1.4H7.3z"],
  fold: ["M6 4l4 4-4 4"],
  up: ["M8 13V3.5", "M4.5 7 8 3.5 11.5 7"],
  down: ["M8 3v9.5", "M4.5 9 8 12.5 11.5 9"],
  clock: ["M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z", "M8 4.5V8l2.5 1.5"],
} as const satisfies Record<string, readonly string[]>;

export type SignName = keyof typeof drawings;

/** A sign for the eye alone: what it means is said beside it. */
export function sign(name: SignName): SVGSVGElement {
  const svg = svgNode("svg", {
    viewBox: "0 0 16 16",
    width: 16,
    height: 16,
    "aria-hidden": "true",
    focusable: "false",
    class: `sign sign-${name}`,
  });
  for (const drawing of drawings[name]) {
    const isFilled = drawing.startsWith("fill:");
    svg.append(
      svgNode("path", {
        d: isFilled ? drawing.slice(5) : drawing,
        fill: isFilled ? "currentColor" : "none",
        ...(!isFilled && {
          stroke: "currentColor",
          "stroke-width": 1.4,
          "stroke-linecap": "round",
          "stroke-linejoin": "round",
        }),
      }),
    );
  }
  return svg;
}
