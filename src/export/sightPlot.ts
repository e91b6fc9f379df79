import { type Interval, type Sight, type SightMeridian, type SightSide, sightSides } from "../checks/sight";
import type { Eye } from "../checks/view/visualField";
import { palette, sans } from "./sheet/palette";
import { escaped, num } from "./sheet/svg";

type Field = Eye | "both";
const fields = ["left", "right", "both"] as const satisfies readonly Field[];

/** Sky blue and orange after Okabe & Ito 2008, *Color universal design*; for both eyes a red that is darker by far. */
const hues: Readonly<Record<Field, string>> = { left: "#56b4e9", right: "#e69f00", both: "#a2254a" };

const names: Readonly<Record<Field, string>> = { left: "left eye", right: "right eye", both: "both eyes" };

/** How the border of each field is drawn. */
const dashes: Readonly<Record<Field, string>> = {
  left: ' stroke-dasharray="7 4"',
  right: ' stroke-dasharray="2 3"',
  both: "",
};

const width = 420;
const height = 510;
/** Straight ahead. */
const centre = { x: width / 2, y: 196 };
/** Pixels a degree. */
const scale = 1.48;
const reach = 110;

/**
 * What the piece covers of the visual field as a drawing, 420 × 510 px: straight ahead in the middle, right, up, left and
 * down as the wearer sees them, the distance from the middle the angle from straight ahead. One self-contained SVG
 * without script or reference; areas are told apart by hatching as well as by hue.
 */
export function sightPlot(sight: Sight): string {
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="sight-title sight-desc" font-family="${sans}">`,
    `<title id="sight-title">${escaped("What the piece covers of the visual field")}</title>`,
    `<desc id="sight-desc">${escaped(described(sight))}</desc>`,
    `<defs>${fields.map(hatching).join("")}</defs>`,
    `<rect width="${width}" height="${height}" fill="${palette.paper}"/>`,
    `<path class="field" fill="#ffffff" stroke="none" d="${borderPath(sight.plot, "both")}"/>`,
    ...fields.map((field) => coveredArea(sight.plot, field)),
    rings(),
    ...fields.map(
      (field) =>
        `<path class="border-${field}" fill="none" stroke="${palette.ink}" stroke-width="${field === "both" ? 1.6 : 1}"${dashes[field]} d="${borderPath(sight.plot, field)}"/>`,
    ),
    sideLabels(),
    legend(sight),
    "</svg>",
    "",
  ].join("\n");
}

/** Degrees of sight on a side: no more than the normal field has. */
export function seenDegrees(sight: Pick<Sight, "free" | "plot">, side: SightSide): number {
  const meridian = { right: 0, up: 90, left: 180, down: 270 }[side];
  const border = sight.plot.find((one) => one.meridian === meridian)?.border.both ?? reach;
  return Math.min(sight.free[side], border);
}

const percent = (share: number): string => `${num(Math.round(1000 * share) / 10)} %`;

function described(sight: Sight): string {
  const { covered } = sight;
  const degrees = (side: SightSide): string => `${Math.round(seenDegrees(sight, side))}° ${side}`;
  return (
    `Polar plot as the wearer sees it, straight ahead in the middle. Covered: left eye ${percent(covered.left)}, ` +
    `right eye ${percent(covered.right)}, both eyes together ${percent(covered.both)}. ` +
    `Free from straight ahead, within the normal field: ${sightSides.map(degrees).join(", ")}.`
  );
}

/** Lines that lean one way for each eye, and both ways for both. */
function hatching(field: Field): string {
  const up = "M-2 10L10 -2M-2 2L2 -2M6 10L10 6";
  const down = "M-2 -2L10 10M6 -2L10 2M-2 6L2 10";
  const lines = field === "left" ? down : field === "right" ? up : `${up}${down}`;
  return (
    `<pattern id="sight-${field}" width="8" height="8" patternUnits="userSpaceOnUse">` +
    `<rect width="8" height="8" fill="${hues[field]}" fill-opacity="${field === "both" ? 0.75 : 0.3}"/>` +
    `<path d="${lines}" fill="none" stroke="${field === "both" ? palette.paper : hues[field]}" stroke-width="${field === "both" ? 0.9 : 1.6}"/></pattern>`
  );
}

function point(eccentricity: number, meridian: number): string {
  const angle = (meridian * Math.PI) / 180;
  const radius = scale * eccentricity;
  return `${num(centre.x + radius * Math.cos(angle))} ${num(centre.y - radius * Math.sin(angle))}`;
}

const borderPath = (plot: readonly SightMeridian[], field: Field): string =>
  `M${plot.map(({ meridian, border }) => point(border[field], meridian)).join("L")}Z`;

/**
 * The covered area of a field: where intervals of neighbouring meridians overlap, the area between them; where an
 * interval has no neighbour on one side, it tapers half way.
 */
function coveredArea(plot: readonly SightMeridian[], field: Field): string {
  const pieces: string[] = [];
  plot.forEach((here, i) => {
    const next = plot[(i + 1) % plot.length];
    const turn = (((next.meridian - here.meridian) % 360) + 360) % 360 || 360;
    const one = here.covered[field];
    const other = next.covered[field];
    const between = here.meridian + turn / 2;
    for (const a of one) {
      const meeting = other.filter((b) => overlaps(a, b));
      for (const b of meeting) pieces.push(area(a, here.meridian, b, next.meridian));
      if (meeting.length === 0) pieces.push(area(a, here.meridian, taper(a), between));
    }
    for (const b of other) {
      if (!one.some((a) => overlaps(a, b))) pieces.push(area(taper(b), between, b, next.meridian));
    }
  });
  if (pieces.length === 0) return "";
  return `<path class="covered-${field}" fill="url(#sight-${field})" stroke="none" d="${pieces.join("")}"/>`;
}

const overlaps = (a: Interval, b: Interval): boolean => a[0] < b[1] && b[0] < a[1];
const taper = ([from, to]: Interval): Interval => [(from + to) / 2, (from + to) / 2];

/** Four corners, always the same way round, so that what overlaps is filled once. */
const area = (a: Interval, from: number, b: Interval, to: number): string =>
  `M${point(a[0], from)}L${point(a[1], from)}L${point(b[1], to)}L${point(b[0], to)}Z`;

/** Circles every 30°, meridians every 30°, and the degrees of the circles. */
function rings(): string {
  const line = `fill="none" stroke="${palette.inkSoft}" stroke-width="0.6"`;
  const circles = [30, 60, 90].map(
    (degrees) => `<circle cx="${num(centre.x)}" cy="${num(centre.y)}" r="${num(scale * degrees)}" ${line}/>`,
  );
  const meridians = Array.from({ length: 12 }, (_, i) => `M${point(4, 30 * i)}L${point(reach, 30 * i)}`);
  const labels = [30, 60, 90].map((degrees) => {
    const [x, y] = point(degrees, 55).split(" ");
    return text(Number(x), Number(y) + 4, `${degrees}°`, "middle", 11, true);
  });
  return [
    `<g class="rings">`,
    ...circles,
    `<path ${line} stroke-opacity="0.6" d="${meridians.join("")}"/>`,
    `<circle cx="${num(centre.x)}" cy="${num(centre.y)}" r="2" fill="${palette.ink}"/>`,
    ...labels,
    "</g>",
  ].join("");
}

/** `isOver`: over lines and hatching, with a rim of paper. */
function text(
  x: number,
  y: number,
  content: string,
  anchor: "start" | "middle" | "end" = "start",
  size = 12,
  isOver = false,
): string {
  const rim = isOver
    ? ` stroke="${palette.paper}" stroke-width="3" stroke-linejoin="round" paint-order="stroke"`
    : "";
  return `<text x="${num(x)}" y="${num(y)}" font-size="${size}" fill="${palette.ink}" text-anchor="${anchor}"${rim}>${escaped(content)}</text>`;
}

function sideLabels(): string {
  const far = scale * reach + 8;
  return [
    text(centre.x + far, centre.y + 4, "right", "start", 13),
    text(centre.x - far, centre.y + 4, "left", "end", 13),
    text(centre.x, centre.y - far, "up", "middle", 13),
    text(centre.x, centre.y + far + 9, "down", "middle", 13),
  ].join("");
}

function legend(sight: Sight): string {
  const top = 408;
  const lines = fields.map((field, i) => {
    const y = top + 20 * i;
    return (
      `<rect x="24" y="${y}" width="26" height="13" fill="url(#sight-${field})" stroke="${palette.ink}" stroke-width="0.6"/>` +
      `<path stroke="${palette.ink}" stroke-width="${field === "both" ? 1.6 : 1}"${dashes[field]} d="M58 ${num(y + 6.5)}h30"/>` +
      text(96, y + 11, `${names[field]}: ${percent(sight.covered[field])} covered`)
    );
  });
  const free = (side: SightSide): string => `${side} ${Math.round(seenDegrees(sight, side))}°`;
  return [
    `<g class="legend">`,
    ...lines,
    text(24, top + 71, `Free from straight ahead: ${sightSides.map(free).join(", ")}.`, "start", 11),
    text(24, top + 88, "Hatched: covered by the piece. Lines: border of the normal field.", "start", 11),
    "</g>",
  ].join("");
}
