import type { Line } from "./contour";

/** A number for SVG: hundredths at most, no trailing zeros, never −0. */
export const num = (value: number): string => String(Math.round(value * 100) / 100 + 0);

/** Whether XML 1.0 allows a character (production 2, Char). */
const isAllowed = (character: string): boolean => {
  const code = character.codePointAt(0) as number;
  if (code < 0x20) return code === 9 || code === 10 || code === 13;
  return !(code >= 0xd800 && code <= 0xdfff) && code !== 0xfffe && code !== 0xffff;
};

/** Text for SVG content or attributes; characters that XML does not allow are left out. */
export const escaped = (text: string): string =>
  [...text]
    .filter(isAllowed)
    .join("")
    .replace(/&/g, "&amp;")
    .replace(/</g, "&lt;")
    .replace(/>/g, "&gt;")
    .replace(/"/g, "&quot;");

/** Lines as the data of one path: absolute start, then relative steps in hundredths, which keep it short. */
export function pathData(lines: readonly Line[], place: (x: number, y: number) => [number, number]): string {
  const hundredths = (value: number): number => Math.round(value * 100);
  const short = (value: number): string => {
    const text = String(value / 100);
    return text.startsWith("0.") ? text.slice(1) : text.startsWith("-0.") ? `-${text.slice(2)}` : text;
  };
  const pair = (x: number, y: number): string => `${short(x)}${y < 0 ? "" : " "}${short(y)}`;
  let data = "";
  for (const { points, closed } of lines) {
    let [lastX, lastY] = place(points[0], points[1]).map(hundredths);
    data += `M${pair(lastX, lastY)}l`;
    let first = true;
    for (let i = 2; i < points.length; i += 2) {
      const [x, y] = place(points[i], points[i + 1]).map(hundredths);
      if (x === lastX && y === lastY) continue;
      const step = pair(x - lastX, y - lastY);
      data += first || step.startsWith("-") ? step : ` ${step}`;
      first = false;
      lastX = x;
      lastY = y;
    }
    if (first) data += "0 0";
    if (closed) data += "z";
  }
  return data;
}
