import type { Vec3 } from "../../geometry/vector";
import { type Placed, sheet, strip } from "./layout";
import { palette, sans, serif, widths } from "./palette";
import { millimetres } from "./sheetDimensions";
import { escaped, num } from "./svg";

/** What the title block says. */
export interface TitleInput {
  readonly headpiece: string;
  readonly wearer: string;
  readonly material: string;
  readonly massPrinted: number;
  readonly massSolid: number;
  readonly cautions: readonly string[];
}

interface TextStyle {
  readonly size: number;
  readonly fill?: string;
  readonly family?: string;
  readonly anchor?: "start" | "middle" | "end";
  readonly italic?: boolean;
  readonly spacing?: number;
}

function text(x: number, y: number, content: string, style: TextStyle): string {
  const { size, fill = palette.ink, family = sans, anchor = "start", italic, spacing } = style;
  return (
    `<text x="${num(x)}" y="${num(y)}" font-family="${family}" font-size="${size}" fill="${fill}"` +
    `${anchor === "start" ? "" : ` text-anchor="${anchor}"`}${italic === true ? ' font-style="italic"' : ""}` +
    `${spacing === undefined ? "" : ` letter-spacing="${spacing}"`}>${escaped(content)}</text>`
  );
}

/** Frame, view titles, title block, scale bar and cautions. */
export function furniture(
  input: TitleInput,
  views: readonly [Placed, Placed, Placed],
  pictures: readonly Placed[],
  [width, depth, height]: Vec3,
  reduction: number,
): string {
  const { frame } = sheet;
  const right = sheet.width - frame;
  const bottom = sheet.height - frame;
  const side = views[1];
  const left = side.at[0] - 6;
  const top = bottom - strip;
  const cells: [string, string][] = [
    ["worn by", input.wearer],
    ["material", input.material],
    ["mass, printed", `${Math.round(input.massPrinted)} g`],
    ["mass, if solid", `${Math.round(input.massSolid)} g`],
    ["wide × deep × high", `${millimetres(width)} × ${millimetres(depth)} × ${millimetres(height)} mm`],
    ["scale, unit", `${scaleText(reduction)}, mm`],
  ];
  const nameWidth = Math.min(0.36 * (right - left), 82);
  const cellWidth = (right - left - nameWidth) / 3;
  const cellTop = top + 1;
  const cellHeight = 11;
  const lines = [
    `<g class="title-block">`,
    `<rect x="${num(frame)}" y="${num(frame)}" width="${num(right - frame)}" height="${num(bottom - frame)}" fill="none" stroke="${palette.ink}" stroke-width="${widths.frame}"/>`,
    `<rect x="${num(frame + 1.4)}" y="${num(frame + 1.4)}" width="${num(right - frame - 2.8)}" height="${num(bottom - frame - 2.8)}" fill="none" stroke="${palette.hairline}" stroke-width="0.15"/>`,
    `<path fill="none" stroke="${palette.ink}" stroke-width="0.25" d="M${num(left)} ${num(top)}H${num(right - 1.4)}"/>`,
    text(left, top + 6, "headpiece", { size: 2.3, fill: palette.inkSoft, spacing: 0.25 }),
    fittedText(left, top + 15.5, input.headpiece, nameWidth - 4, 8.4),
  ];
  cells.forEach(([label, value], i) => {
    const x = left + nameWidth + (i % 3) * cellWidth;
    const y = cellTop + Math.floor(i / 3) * cellHeight;
    lines.push(
      `<path stroke="${palette.hairline}" stroke-width="0.15" d="M${num(x)} ${num(y + 1.5)}v${num(cellHeight - 3)}"/>`,
      text(x + 2.5, y + 4.6, label, { size: 2.3, fill: palette.inkSoft, spacing: 0.25 }),
      text(x + 2.5, y + 9, value, {
        size: Math.min(3.3, (1.75 * (cellWidth - 4)) / Math.max(1, value.length)),
      }),
    );
  });
  const cautionTop = top + 26.5;
  lines.push(
    `<path fill="none" stroke="${palette.hairline}" stroke-width="0.15" d="M${num(left)} ${num(cautionTop - 4)}H${num(right - 3)}"/>`,
    ...wrapped(input.cautions.join(" "), (right - left - 6) / 1.22)
      .slice(0, 5)
      .map((line, i) => text(left, cautionTop + 3.3 * i, line, { size: 2.4, fill: palette.accent })),
    "</g>",
    ...[...views, ...pictures].map(viewTitle),
    scaleBar(left, top - 7, reduction),
    projectionSymbol(right - 16, top - 6.5),
  );
  return lines.join("\n");
}

const scaleText = (reduction: number): string =>
  reduction < 1 ? `${1 / reduction} : 1` : `1 : ${reduction}`;

/** Large text that shrinks until it fits a width, about half its size a letter. */
function fittedText(x: number, y: number, content: string, width: number, size: number): string {
  const fit = Math.min(size, width / (0.56 * Math.max(1, content.length)));
  return text(x, y, content, { size: Math.round(fit * 100) / 100, family: serif, italic: true });
}

/** Breaks text into lines of at most `letters`. */
function wrapped(content: string, letters: number): string[] {
  const lines: string[] = [];
  let line = "";
  for (const word of content.split(/\s+/)) {
    if (line !== "" && line.length + 1 + word.length > letters) {
      lines.push(line);
      line = word;
    } else {
      line = line === "" ? word : `${line} ${word}`;
    }
  }
  return line === "" ? lines : [...lines, line];
}

function viewTitle({ view, window, at, reduction }: Placed): string {
  const x = at[0] + (window.right - window.left) / reduction / 2;
  return text(x, at[1] - 4, view.title, {
    size: 3,
    family: serif,
    italic: true,
    fill: palette.inkSoft,
    anchor: "middle",
  });
}

/** A bar of alternating fields for a round length that is 30 to 75 mm long on paper. */
function scaleBar(x: number, y: number, reduction: number): string {
  const round = [10, 20, 50, 100, 200, 500, 1000, 2000, 5000].find((mm) => mm / reduction >= 30) ?? 5000;
  const fields = 5;
  const step = round / reduction / fields;
  const parts = [`<g class="scale-bar" data-mm="${round}">`];
  for (let i = 0; i < fields; i++) {
    parts.push(
      `<rect x="${num(x + i * step)}" y="${num(y)}" width="${num(step)}" height="1.5" fill="${i % 2 === 0 ? palette.ink : palette.paper}" stroke="${palette.ink}" stroke-width="0.13"/>`,
    );
  }
  for (const share of [0, 0.4, 1]) {
    const label = `${Math.round(round * share)}${share === 1 ? " mm" : ""}`;
    parts.push(
      text(x + share * fields * step, y - 1.2, label, {
        size: 2.4,
        anchor: share === 0 ? "start" : "middle",
      }),
    );
  }
  parts.push("</g>");
  return parts.join("");
}

/** The sign of first-angle projection (ISO 5456-2): a cone's side view beside its view from the left. */
function projectionSymbol(x: number, y: number): string {
  return (
    `<g class="first-angle" fill="none" stroke="${palette.ink}" stroke-width="0.2">` +
    `<path d="M${num(x)} ${num(y - 1.1)}L${num(x + 5)} ${num(y - 2.2)}V${num(y + 2.2)}L${num(x)} ${num(y + 1.1)}Z"/>` +
    `<circle cx="${num(x + 10)}" cy="${num(y)}" r="2.2"/><circle cx="${num(x + 10)}" cy="${num(y)}" r="1.1"/>` +
    `<path stroke-width="0.1" stroke-dasharray="1.2 0.4 0.3 0.4" d="M${num(x - 1)} ${num(y)}h14.4M${num(x + 10)} ${num(y - 3.2)}v6.4"/></g>`
  );
}
