/**
 * The icons: 16 by 16, drawn in lines of one width that take the text's colour. Each is a list of paths; one that
 * starts with "fill:" is filled.
 */
const drawings = {
  views: ["M8 2 13.5 5v6L8 14 2.5 11V5z", "M2.5 5 8 8l5.5-3", "M8 8v6"],
  frame: ["M2.5 5.5v-3h3", "M10.5 2.5h3v3", "M13.5 10.5v3h-3", "M5.5 13.5h-3v-3", "M6 6h4v4H6z"],
  parallel: ["M2.5 5.5h7v8h-7z", "M6.5 2.5h7v8h-4", "M2.5 5.5l4-3", "M9.5 5.5l4-3"],
  head: [
    "M5.5 14v-2.5C3.8 10.6 3 9 3 7c0-2.8 2.2-5 5-5s5 2.2 5 5c0 .6 0 1 .8 2.5-.3.5-.8.5-1.2.5v1.5c0 .6-.4 1-1 1H10V14",
  ],
  plate: ["M1.5 11 8 14l6.5-3L8 8z", "M1.5 11V5", "M14.5 11V5", "M8 8V2.5", "M1.5 5 8 2.5 14.5 5"],
  plateView: ["M1.5 13.5h13", "M3.5 13.5V10h9v3.5", "M5.5 10V7h5v3", "M8 4.5V1.5", "M6.8 2.8h2.4L8 4.8z"],
  overhang: [
    "M2.5 2.5h11",
    "M2.5 2.5v11",
    "M13.5 2.5C8.5 3 5.2 6.5 5 13.5",
    "M9 9.5h4",
    "M8.5 11.5h5",
    "M8 13.5h5.5",
  ],
  best: ["fill:M8 1.8l1.9 4 4.3.6-3.1 3 .8 4.3L8 11.6l-3.9 2.1.8-4.3-3.1-3 4.3-.6z"],
  dimensions: ["M2.5 3v10", "M13.5 3v10", "M4.5 8h7", "M6.5 6l-2 2 2 2", "M9.5 6l2 2-2 2"],
  wire: ["M2.5 12.5 8 2.5l5.5 10z", "M5.25 7.5h5.5L8 12.5z"],
  marks: [
    "M8 14.5C5 11 3.5 9 3.5 6.5a4.5 4.5 0 0 1 9 0C12.5 9 11 11 8 14.5z",
    "M8 4.5v2.5",
    "fill:M7.3 8.3h1.4v1.2H7.3z",
  ],
  field: [
    "M6 2.5h4v11H6z",
    "fill:M6 9.8h4v3.7H6z",
    "M10 6h1.8",
    "M10 9.8h1.8",
    "M10 2.5h1.8",
    "M10 13.5h1.8",
  ],
  balance: [
    "M8 4.5v9",
    "M5 13.5h6",
    "M2.5 4.5h11",
    "M3.8 4.5 2 9h3.6z",
    "M12.2 4.5 10.4 9H14z",
    "M8 2.3v2.2",
  ],
  wayOn: ["M2.5 13.5a5.5 5.5 0 0 1 11 0", "M8 1.5v5", "M5.6 4.3 8 6.7l2.4-2.4"],
  play: ["fill:M5 3v10l8-5z"],
  stop: ["fill:M4 4h8v8H4z"],
  sight: ["M8 2a6 6 0 1 1 0 12A6 6 0 0 1 8 2z", "M8 5a3 3 0 1 1 0 6 3 3 0 0 1 0-6z", "M8 2v12", "M2 8h12"],
  section: ["M5.5 2.5h5v3", "M10.5 9.5v4h-8v-8", "M2.5 5.5l3-3", "M1.5 7.5h13", "M10.5 9.5 13.5 5.5v-3h-3"],
  show: [
    "M1.5 8C3 5.2 5.3 3.7 8 3.7S13 5.2 14.5 8c-1.5 2.8-3.8 4.3-6.5 4.3S3 10.8 1.5 8z",
    "M8 6a2 2 0 1 1 0 4 2 2 0 0 1 0-4z",
  ],
  picture: ["M2.5 4.5h2.3l1-1.5h4.4l1 1.5h2.3v8.5h-11z", "M8 6.2a2.3 2.3 0 1 1 0 4.6 2.3 2.3 0 0 1 0-4.6z"],
  lock: ["M3.5 7.5h9v6h-9z", "M5.5 7.5V5a2.5 2.5 0 0 1 5 0v2.5"],
  unlock: ["M3.5 7.5h9v6h-9z", "M5.5 7.5V5a2.5 2.5 0 0 1 4.8-1"],
  details: ["M2.5 3h11v10h-11z", "M9.5 3v10"],
  help: [
    "M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z",
    "M6 6.3C6 5 6.9 4.3 8 4.3s2 .7 2 1.8c0 1.5-2 1.6-2 3.2",
    "fill:M7.3 10.7h1.4v1.3H7.3z",
  ],
  error: ["M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z", "M5.5 5.5l5 5", "M10.5 5.5l-5 5"],
  warning: ["M8 2 14.5 13.5h-13z", "M8 6.3v3.4", "fill:M7.3 10.8h1.4v1.3H7.3z"],
  note: ["M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z", "M8 7.2v4", "fill:M7.3 4.5h1.4v1.4H7.3z"],
  check: ["M2.5 8.5 6 12l7.5-8"],
  close: ["M3.5 3.5l9 9", "M12.5 3.5l-9 9"],
  down: ["M4 6.5l4 4 4-4"],
  fold: ["M6 4l4 4-4 4"],
  back: ["M3 8.5a5 5 0 1 0 1.5-3.6L2.5 6.5", "M2.5 3v3.5H6"],
  tube: ["M3 13C3 7 13 9 13 3", "M6 13.3c0-3 7-2.3 7.8-8.3", "M2.3 10.8C3 6 9.5 7.3 10.2 3"],
  solid: ["M8 2 13.5 5v6L8 14 2.5 11V5z"],
  cut: ["M3 3l8.5 8.5", "M3 13l8.5-8.5", "M4 1.8a1.7 1.7 0 1 0 .1 0z", "M4 10.8a1.7 1.7 0 1 0 .1 0z"],
  search: ["M7 2.5a4.5 4.5 0 1 1 0 9 4.5 4.5 0 0 1 0-9z", "M10.3 10.3l3.7 3.7"],
  clock: ["M8 1.5a6.5 6.5 0 1 1 0 13 6.5 6.5 0 0 1 0-13z", "M8 4.5V8l2.5 1.5"],
  crown: ["M2.5 12.5h11", "M3 10 2 4l3.5 3L8 3l2.5 4L14 4l-1 6z"],
} as const satisfies Record<string, readonly string[]>;

export type IconName = keyof typeof drawings;

const svgNamespace = "http://www.w3.org/2000/svg";

/** An icon for the eye alone: what it means is said beside it. */
export function icon(name: IconName): SVGSVGElement {
  const svg = document.createElementNS(svgNamespace, "svg");
  const attributes = {
    viewBox: "0 0 16 16",
    width: "16",
    height: "16",
    "aria-hidden": "true",
    focusable: "false",
  };
  for (const [key, value] of Object.entries(attributes)) svg.setAttribute(key, value);
  svg.classList.add("icon", `icon-${name}`);
  for (const drawing of drawings[name]) {
    const path = document.createElementNS(svgNamespace, "path");
    const isFilled = drawing.startsWith("fill:");
    path.setAttribute("d", isFilled ? drawing.slice(5) : drawing);
    path.setAttribute("fill", isFilled ? "currentColor" : "none");
    if (!isFilled) {
      path.setAttribute("stroke", "currentColor");
      path.setAttribute("stroke-width", "1.1");
      path.setAttribute("stroke-linecap", "round");
      path.setAttribute("stroke-linejoin", "round");
    }
    svg.append(path);
  }
  return svg;
}
