import { palette, sans, widths } from "./palette";
import { escaped, num } from "./svg";

/** A dimension: two points on paper (mm) and how far from them its line runs, with the text over it. */
export interface Dimension {
  readonly name: string;
  readonly from: readonly [number, number];
  readonly to: readonly [number, number];
  /** Where the line runs: the y of a level one, the x of an upright one. */
  readonly line: number;
  readonly way: "level" | "upright";
  readonly text: string;
}

const arrowLength = 2.8;
const textSize = 3.1;

/** A dimension line with extension lines, slender arrows and its text, as ISO 129-1 has them. */
export function dimension({ name, from, to, line, way, text }: Dimension): string {
  const level = way === "level";
  const [a, b] = level ? [from[0], to[0]] : [from[1], to[1]];
  const [low, high] = a < b ? [a, b] : [b, a];
  const extension = ([x, y]: readonly [number, number]): string => {
    const start = level ? y : x;
    const sign = Math.sign(line - start) || 1;
    const [s, e] = [start + sign * 1.2, line + sign * 1.4];
    return level ? `M${num(x)} ${num(s)}V${num(e)}` : `M${num(s)} ${num(y)}H${num(e)}`;
  };
  // Where arrows do not fit between, they point inwards from outside.
  const within = high - low > 3 * arrowLength;
  const arrow = (tip: number, sign: number): string => {
    const back = tip - sign * arrowLength;
    const half = 0.42;
    return level
      ? `M${num(tip)} ${num(line)}L${num(back)} ${num(line - half)}V${num(line + half)}Z`
      : `M${num(line)} ${num(tip)}L${num(line - half)} ${num(back)}H${num(line + half)}Z`;
  };
  const reach = within ? 0 : 2 * arrowLength;
  const rule = level
    ? `M${num(low - reach)} ${num(line)}H${num(high + reach)}`
    : `M${num(line)} ${num(low - reach)}V${num(high + reach)}`;
  // Text that does not fit between stands after the line's end.
  const roomy = high - low > 0.62 * textSize * text.length;
  const middle = roomy ? (low + high) / 2 : level ? high + reach + 1 : low - reach - 1;
  const anchor = roomy ? "middle" : "start";
  const place = level
    ? `x="${num(middle)}" y="${num(line - 1)}"`
    : `x="${num(line - 1)}" y="${num(middle)}" transform="rotate(-90 ${num(line - 1)} ${num(middle)})"`;
  return [
    `<g class="dimension" data-name="${escaped(name)}">`,
    `<path fill="none" stroke="${palette.ink}" stroke-width="${widths.dimension}" d="${extension(from)}${extension(to)}${rule}"/>`,
    `<path fill="${palette.ink}" d="${arrow(low, within ? -1 : 1)}${arrow(high, within ? 1 : -1)}"/>`,
    `<text ${place} text-anchor="${anchor}" font-family="${sans}" font-size="${textSize}" fill="${palette.ink}" stroke="${palette.paper}" stroke-width="0.8" paint-order="stroke">${escaped(text)}</text>`,
    "</g>",
  ].join("");
}
