import { hoursAndMinutes } from "../durations";
import { escaped, num } from "../sheet/svg";
import { evenStep, ticks, timeStep } from "./axis";

export const ink = "#1b1d21";
export const softInk = "#5a5f68";
const hairline = "#d5d7db";

/** A plot with hours to the right and height over the plate upwards. */
export interface HeightFrame {
  /** Of the whole drawing, px. */
  readonly width: number;
  readonly height: number;
  x(seconds: number): number;
  y(millimetres: number): number;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  /** Grid, numbers and names of the axes. */
  readonly axes: string;
}

/**
 * Axes up to the greatest time, s, and height, mm.
 * @throws RangeError when they are not above 0.
 */
export function heightFrame(seconds: number, millimetres: number, timeTitle: string, below = 0): HeightFrame {
  const [width, height] = [420, 340 + below];
  const [left, right, top, bottom] = [50, width - 22, 14, 290];
  const x = (value: number) => left + ((right - left) * value) / seconds;
  const y = (value: number) => bottom - ((bottom - top) * value) / millimetres;
  const down = ticks(seconds, timeStep(seconds, 5)).map(
    (value) =>
      `<path d="M${num(x(value))} ${num(top)}V${num(bottom + 4)}" stroke="${hairline}" stroke-width="0.7"/>` +
      plotText(x(value), bottom + 17, value === 0 ? "0" : hoursAndMinutes(value), {
        anchor: "middle",
        className: "time-tick",
      }),
  );
  const across = ticks(millimetres, evenStep(millimetres, 7)).map(
    (value) =>
      `<path d="M${num(left - 4)} ${num(y(value))}H${num(right)}" stroke="${hairline}" stroke-width="0.7"/>` +
      plotText(left - 8, y(value) + 4, num(value), { anchor: "end", className: "height-tick" }),
  );
  const axes = [
    ...down,
    ...across,
    `<path d="M${left} ${top}V${bottom}H${right}" fill="none" stroke="${ink}" stroke-width="1"/>`,
    plotText((left + right) / 2, bottom + 36, timeTitle, { anchor: "middle" }),
    `<g transform="rotate(-90 14 ${num((top + bottom) / 2)})">${plotText(14, (top + bottom) / 2, "height over the plate, mm", { anchor: "middle" })}</g>`,
  ].join("\n");
  return { width, height, x, y, left, right, top, bottom, axes };
}

/** A line of text in a plot; with `isOver` it has a rim of paper, for over lines. */
export function plotText(
  x: number,
  y: number,
  content: string,
  options: {
    readonly anchor?: "start" | "middle" | "end";
    readonly className?: string;
    readonly isOver?: boolean;
    readonly isBold?: boolean;
  } = {},
): string {
  const { anchor = "start", className, isOver = false, isBold = false } = options;
  const rim = isOver
    ? ` stroke="#ffffff" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke"`
    : "";
  return (
    `<text${className === undefined ? "" : ` class="${className}"`} x="${num(x)}" y="${num(y)}" text-anchor="${anchor}" ` +
    `fill="${ink}"${isBold ? ` font-weight="bold"` : ""}${rim}>${escaped(content)}</text>`
  );
}

/** A plot as SVG that stands in a page: `name` is unique there, `description` says what it shows without seeing it. */
export const plotDocument = (
  name: string,
  size: { readonly width: number; readonly height: number },
  title: string,
  description: string,
  contents: readonly string[],
): string =>
  [
    `<svg xmlns="http://www.w3.org/2000/svg" class="plot" viewBox="0 0 ${num(size.width)} ${num(size.height)}" role="img" aria-labelledby="${name}-title ${name}-text" font-size="12">`,
    `<title id="${name}-title">${escaped(title)}</title>`,
    `<desc id="${name}-text">${escaped(description)}</desc>`,
    ...contents,
    "</svg>",
    "",
  ].join("\n");
