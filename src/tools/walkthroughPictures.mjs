import { around, boxText, grown, pointsOf } from "./sheetViews.mjs";

/**
 * The pictures of the walkthrough: views of drawing sheets with the editor's own colours, so that one file serves
 * light, dark and high contrast themes. The piece keeps its coral, which stands on both.
 */

const ink = "var(--vscode-foreground)";
const font = 'font-family="var(--vscode-font-family, sans-serif)"';

/** The sheet's colours of the head, and of lines, by those of the theme. */
const themed = (group) =>
  group
    .replaceAll('fill="#eff5f2"', `fill="${ink}" fill-opacity="0.08"`)
    .replaceAll('fill="#e3eeea"', `fill="${ink}" fill-opacity="0.05"`)
    .replaceAll('fill="#d3e3df"', `fill="${ink}" fill-opacity="0.08"`)
    .replaceAll(/stroke="#(?:6f9aa0|3c7480|8d7b78)"/g, `stroke="${ink}" stroke-opacity="0.55"`);

const picture = (box, ...content) =>
  `<svg xmlns="http://www.w3.org/2000/svg" viewBox="${boxText(box)}">\n${content.join("\n")}\n</svg>\n`;

const label = (x, y, text, { size = 4, anchor = "middle" } = {}) =>
  `<text x="${x.toFixed(2)}" y="${y.toFixed(2)}" ${font} font-size="${size}" fill="${ink}" text-anchor="${anchor}">${text}</text>`;

/** A measure between two points, with short bars at its ends. */
function measure([x1, y1], [x2, y2], text) {
  const long = Math.hypot(x2 - x1, y2 - y1);
  const [nx, ny] = [((y2 - y1) / long) * 1.6, ((x1 - x2) / long) * 1.6];
  const bar = (x, y) =>
    `M${(x - nx).toFixed(2)} ${(y - ny).toFixed(2)}l${(2 * nx).toFixed(2)} ${(2 * ny).toFixed(2)}`;
  const upright = Math.abs(x2 - x1) < Math.abs(y2 - y1);
  const [x, y] = upright ? [x1 - 2, (y1 + y2) / 2 + 1.3] : [(x1 + x2) / 2, y1 - 2];
  const line = `M${x1.toFixed(2)} ${y1.toFixed(2)}L${x2.toFixed(2)} ${y2.toFixed(2)}${bar(x1, y1)}${bar(x2, y2)}`;
  return `<path d="${line}" fill="none" stroke="var(--vscode-textLink-foreground)" stroke-width="0.6"/>${label(x, y, text, { anchor: upright ? "end" : "middle" })}`;
}

/** A view moved so that its corner lies at the origin's right. */
const placed = (group, x, y, scale = 1) =>
  `<g transform="translate(${x.toFixed(2)} ${y.toFixed(2)}) scale(${scale.toFixed(4)})">${group}</g>`;

const whole = (sheet, view) => around(sheet.pieceBox(view), sheet.headBox(view));

/** The piece on its wearer's head. */
export const pieceOnHead = (sheet) =>
  picture(grown(whole(sheet, "picture"), 4), themed(sheet.view("picture")));

/** The first lines of a design, and the piece that it makes. */
export function designBesidePiece(design, sheet) {
  const lines = design.split("\n").slice(2, 17);
  const box = whole(sheet, "front");
  const shown = 84;
  const scale = shown / box.height;
  const code = lines.map((line, i) => {
    const cut = line.length > 62 ? `${line.slice(0, 61)}…` : line;
    const indent = 4 + 1.5 * /^ */.exec(cut)[0].length;
    return `<text x="${indent}" y="${11 + 5 * i}" font-family="var(--vscode-editor-font-family, monospace)" font-size="2.9" fill="var(--vscode-editor-foreground)">${coloured(cut.trim())}</text>`;
  });
  return picture(
    { x: 0, y: 0, width: 190, height: 92 },
    `<rect x="1" y="3" width="120" height="84" rx="2" fill="var(--vscode-editor-background)" stroke="${ink}" stroke-opacity="0.35" stroke-width="0.4"/>`,
    ...code,
    placed(themed(sheet.view("front")), 126 - box.x * scale, 4 - box.y * scale, scale),
  );
}

/** A line of code as text with its words, numbers and quotes in colours of the theme. */
function coloured(line) {
  const kinds = /("[^"]*"|`[^`]*`)|\b(\d+(?:\.\d+)?)\b|\b(import|export|default|const|return|from)\b/g;
  const safe = (text) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
  let out = "";
  let at = 0;
  for (const match of line.matchAll(kinds)) {
    const colour = match[1] ? "orange" : match[2] ? "green" : "blue";
    out += `${safe(line.slice(at, match.index))}<tspan fill="var(--vscode-charts-${colour})">${safe(match[0])}</tspan>`;
    at = match.index + match[0].length;
  }
  return out + safe(line.slice(at));
}

/** The head alone from the front and from its right, with the measures that a wearer's file takes. */
export function measuredHead(sheet, report) {
  const { length, breadth, crownHeight } = report.head;
  const views = ["front", "side"].map((name) => {
    const outline = pointsOf(sheet.headOutline(name));
    return {
      name,
      outline,
      box: sheet.headBox(name),
      size: 1 / sheet.reduction(name),
      window: sheet.window(name),
    };
  });
  const [front, side] = views;
  const gap = 16;
  const shift = front.box.x + front.box.width + gap - side.box.x;
  const drop = front.box.y - side.box.y;
  const middle = front.box.x + front.box.width / 2;
  const top = front.box.y;
  const tragion = top + crownHeight.valueMm * front.size;
  const half = (breadth.valueMm * front.size) / 2;
  const back = side.box.x;
  const brow = back + length.valueMm * side.size;
  // The brow stands where the outline, coming down the forehead, is farthest forward above the tragion.
  const forehead = side.outline.filter(([x, y]) => y + drop < tragion && Math.abs(x - brow) < 0.6);
  const browY = (forehead.length ? Math.max(...forehead.map(([, y]) => y)) : side.box.y + 40) + drop;
  const head = (name) => themed(headAlone(sheet, name));
  const frame = grown(
    {
      // Room for the word beside the crown's measure.
      x: front.box.x - 8,
      y: top,
      width: side.box.x + side.box.width + shift - front.box.x + 8,
      height: front.box.height,
    },
    16,
  );
  return picture(
    frame,
    head("front"),
    placed(head("side"), shift, drop),
    measure([middle - half, top - 6], [middle + half, top - 6], "breadth"),
    measure([front.box.x - 4, top], [front.box.x - 4, tragion], "crown"),
    measure([back + shift, top - 6], [brow + shift, top - 6], "length"),
    `<path d="M${(middle - half).toFixed(2)} ${browY.toFixed(2)}q${half.toFixed(2)} 7 ${(2 * half).toFixed(2)} 0M${(back + shift).toFixed(2)} ${(browY + 2).toFixed(2)}q${((brow - back) / 2).toFixed(2)} 4 ${(brow - back).toFixed(2)} -2" fill="none" stroke="#e8674a" stroke-width="1.2" stroke-linecap="round"/>`,
    label(middle, browY + 10, "girth"),
  );
}

/** The head's group with its window, which lies outside of it. */
function headAlone(sheet, name) {
  const { x, y, width, height } = sheet.window(name);
  return `<clipPath id="${name}-window"><rect x="${x}" y="${y}" width="${width}" height="${height}"/></clipPath>${sheet.head(name)}`;
}

/** One design three times, as its parameters make it. */
export function threeOfOne(sheets) {
  const size = 60;
  const boxes = sheets.map((sheet) => whole(sheet, "front"));
  const tallest = Math.max(...sheets.map((sheet, i) => boxes[i].height * sheet.reduction("front")));
  const all = sheets.map((sheet, i) => {
    const scale = (sheet.reduction("front") / tallest) * 88;
    const { x, y, width, height } = boxes[i];
    const left = 4 + i * (size + 6) + (size - width * scale) / 2;
    // Each view has names of its own for what clips it.
    const group = sheet.view("front").replaceAll(/(id="|url\(#)front-/g, `$1front-${i}-`);
    return placed(themed(group), left - x * scale, 94 - (y + height) * scale, scale);
  });
  const sliders = sheets.map((_, i) => {
    const x = 10 + i * (size + 6);
    return `<path d="M${x} 101h48" stroke="${ink}" stroke-opacity="0.4" stroke-width="1" stroke-linecap="round"/><circle cx="${x + [6, 24, 42][i]}" cy="101" r="2.2" fill="var(--vscode-textLink-foreground)"/>`;
  });
  return picture({ x: 0, y: 0, width: 200, height: 108 }, ...all, ...sliders);
}

/** The piece from above on the plate, with what the report says of it. */
export function onPlate(sheet, report) {
  const box = sheet.pieceBox("top");
  const size = 1 / sheet.reduction("top");
  const [plate] = report.plates;
  const side = plate.plate.widthMm * size;
  const [x, y] = [box.x + (box.width - side) / 2, box.y + (box.height - side) / 2];
  const rows = [
    ["Mass, printed", `${Math.round(report.massPrintedG)} g`],
    ["Box", `${Object.values(report.boxMm).map(Math.round).join(" × ")} mm`],
    ["Plate", plate.fits ? "fits" : "does not fit"],
    ["Pieces", `${report.pieces}`],
  ];
  return picture(
    grown({ x, y, width: side + 70, height: side }, 5),
    `<rect x="${x}" y="${y}" width="${side}" height="${side}" fill="${ink}" fill-opacity="0.05" stroke="${ink}" stroke-opacity="0.6" stroke-width="0.5"/>`,
    themed(sheet.view("top")),
    ...rows.flatMap(([name, value], i) => [
      label(x + side + 8, y + 14 + 17 * i, name, { size: 4, anchor: "start" }),
      label(x + side + 8, y + 21 + 17 * i, value, { size: 6, anchor: "start" }),
    ]),
  );
}
