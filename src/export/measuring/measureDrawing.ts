import type { TriangleMesh } from "../../geometry/mesh";
import { dot, lerp, type Vec3 } from "../../geometry/vector";
import type { HeadForm } from "../../head/headForm";
import type { TakenField } from "../../head/readings";
import type { Line } from "../sheet/contour";
import { escaped, num, pathData } from "../sheet/svg";
import { type HeadPicture, headPicture } from "./headPicture";
import { type Mark, measureStrokes, type Stroke } from "./measureStrokes";
import { MEASURE_VIEWS, type MeasureView } from "./measureViews";
import { MEASURE_WORDS } from "./measureWords";

/** A head from one side is drawn once, for all measures that show it. */
const pictures = new WeakMap<HeadForm, Map<string, HeadPicture>>();
const meshes = new WeakMap<HeadForm, TriangleMesh>();

/** From the lightest to the darkest. */
const toneFills = ["#f0f0f0", "#e6e6e6", "#d8d8d8", "#c6c6c6"];

/** Between two pictures and for the captions under them, mm of the drawing. */
const gutter = 6;
const captionHeight = 20;
const labelSize = 13;
/** Height of a view in the drawing; what is shown enlarged is drawn with the same lines and letters. */
const viewHeight = 324;

/**
 * How a measure is taken, as SVG: the head form in tones, the tape or the instrument on it, dashed where hidden, and named
 * points. Black on white as it stands; a style sheet may colour its classes:
 * `head`, `tone-1` to `tone-4`, `crease`, `measure`, `arm`, `point`, `label`, `caption`.
 * @param id begins the ids in it; unique in the page
 */
export function measureDrawing(form: HeadForm, field: TakenField, id = `measure-${field}`): string {
  const words = MEASURE_WORDS[field];
  const views = MEASURE_VIEWS[field];
  const { strokes, marks } = measureStrokes(form, field);
  const widths = views.map(({ window }) => (window.right - window.left) * enlargement(window));
  const width = widths.reduce((sum, one) => sum + one, gutter * (views.length - 1));
  const height = viewHeight + captionHeight;
  let left = 0;
  const groups = views.map((view, i) => {
    const group = viewGroup(form, view, left, strokes, marks);
    left += widths[i] + gutter;
    return group;
  });
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" class="measure-drawing" role="img" aria-labelledby="${id}-title ${id}-desc" viewBox="0 0 ${num(width)} ${num(height)}" stroke-linejoin="round" stroke-linecap="round">`,
    `<title id="${id}-title">${escaped(words.title)}</title>`,
    `<desc id="${id}-desc">${escaped(words.picture)}</desc>`,
    ...groups,
    "</svg>",
  ].join("\n");
}

const enlargement = ({ top, bottom }: MeasureView["window"]): number => viewHeight / (top - bottom);

function viewGroup(
  form: HeadForm,
  { view, window, caption }: MeasureView,
  left: number,
  strokes: readonly Stroke[],
  marks: readonly Mark[],
): string {
  const picture = pictureOf(form, { view, window, caption });
  const scale = enlargement(window);
  const place = (u: number, v: number): [number, number] => [
    scale * (u - window.left),
    scale * (window.top - v),
  ];
  const flat = (point: Vec3): [number, number] => [dot(point, view.right), dot(point, view.up)];
  const area = (name: string, fill: string, lines: readonly Line[]): string =>
    lines.length === 0
      ? ""
      : `<path class="${name}" fill="${fill}" fill-rule="evenodd" d="${pathData(lines, place)}"/>`;
  const line = (attributes: string, lines: readonly Line[]): string =>
    lines.length === 0 ? "" : `<path fill="none" ${attributes} d="${pathData(lines, place)}"/>`;
  const width = scale * (window.right - window.left);
  const middle = middleOf(strokes[0].points.map((point) => place(...flat(point))));
  const drawn = strokes.map((stroke) => {
    const { seen, hidden } = split(stroke, picture, (point) => [...flat(point), dot(point, view.towards)]);
    const isArm = stroke.kind === "arm";
    const solid = isArm
      ? 'class="arm" stroke="#444" stroke-width="1.2"'
      : 'class="measure" stroke="#000" stroke-width="2.6"';
    const dashed = 'class="measure hidden" stroke="#000" stroke-width="1.5" stroke-dasharray="4 4"';
    return line(dashed, hidden) + line(solid, seen) + (stroke.kind === "span" ? endBars(seen, place) : "");
  });
  return [
    `<svg class="view view-${view.name}" data-scale="${num(scale)}" x="${num(left)}" y="0" overflow="visible" width="${num(width)}" height="${viewHeight + captionHeight}">`,
    `<svg width="${num(width)}" height="${viewHeight}" overflow="hidden">`,
    area("head", "#f8f8f8", picture.outline),
    ...picture.tones.map((tone, i) => area(`tone-${i + 1}`, toneFills[i], tone)),
    line('class="crease" stroke="#777" stroke-width="0.9"', picture.details),
    line('class="outline" stroke="#555" stroke-width="1.3"', picture.outline),
    "</svg>",
    ...drawn,
    ...marks
      .filter(
        ({ at }) => strokes[0].kind !== "tape" || isAtRim(picture, [...flat(at), dot(at, view.towards) + 6]),
      )
      .map((mark) => markText(mark, place(...flat(mark.at)), middle, width)),
    `<text class="caption" x="${num(width / 2)}" y="${num(viewHeight + 15)}" font-size="${labelSize}" text-anchor="middle" font-family="sans-serif" fill="#555">${escaped(caption)}</text>`,
    "</svg>",
  ]
    .filter((part) => part !== "")
    .join("\n");
}

function pictureOf(form: HeadForm, { view, window }: MeasureView): HeadPicture {
  let known = pictures.get(form);
  if (!known) {
    known = new Map();
    pictures.set(form, known);
  }
  const key = JSON.stringify([view.name, window]);
  const found = known.get(key);
  if (found) return found;
  const mesh = meshes.get(form) ?? form.mesh();
  meshes.set(form, mesh);
  const made = headPicture(mesh, view, window);
  known.set(key, made);
  return made;
}

/** A stroke as what is seen of it and what the head hides. */
function split(
  { points, closed, kind }: Stroke,
  picture: HeadPicture,
  project: (point: Vec3) => [number, number, number],
): { seen: Line[]; hidden: Line[] } {
  const flat = (closed ? [...points, points[0]] : points).map(project);
  const whole = [{ points: flat.flatMap((point) => point.slice(0, 2)), closed: false }];
  if (kind === "through") return { seen: [], hidden: whole };
  if (kind !== "tape") return { seen: whole, hidden: [] };
  const seen: Line[] = [];
  const hidden: Line[] = [];
  let run: number[] = [];
  let wasSeen: boolean | undefined;
  for (let i = 1; i < flat.length; i++) {
    const [a, b] = [flat[i - 1], flat[i]];
    const isSeen = isAtRim(picture, lerp(a, b, 0.5));
    if (isSeen !== wasSeen) {
      run = [a[0], a[1]];
      (isSeen ? seen : hidden).push({ points: run, closed: false });
      wasSeen = isSeen;
    }
    run.push(b[0], b[1]);
  }
  return { seen, hidden };
}

/** Short bars across the ends of a straight measure. */
function endBars(lines: readonly Line[], place: (u: number, v: number) => [number, number]): string {
  return lines
    .map(({ points }) => {
      const [ax, ay] = place(points[0], points[1]);
      const [bx, by] = place(points[points.length - 2], points[points.length - 1]);
      const length = Math.hypot(bx - ax, by - ay);
      // Seen from its end a measure is a point, and has no direction.
      if (length < 1) return "";
      const [dx, dy] = [(-4.5 * (by - ay)) / length, (4.5 * (bx - ax)) / length];
      const bar = (x: number, y: number): string =>
        `M${num(x - dx)} ${num(y - dy)}L${num(x + dx)} ${num(y + dy)}`;
      return `<path class="measure" fill="none" stroke="#000" stroke-width="1.8" d="${bar(ax, ay)}${bar(bx, by)}"/>`;
    })
    .join("");
}

/** Whether a point is seen, or lies at the rim of what is seen. */
const isAtRim = (picture: HeadPicture, [u, v, depth]: Vec3): boolean =>
  [-2, 0, 2].some((du) => [-2, 0, 2].some((dv) => picture.isSeen(u + du, v + dv, depth)));

const middleOf = (points: readonly (readonly [number, number])[]): [number, number] => {
  const mean = (axis: 0 | 1): number => points.reduce((sum, point) => sum + point[axis], 0) / points.length;
  return [mean(0), mean(1)];
};

/** A dot and its name, which stands away from the middle of the measure. */
function markText(
  { label, place }: Mark,
  [x, y]: [number, number],
  [middleX, middleY]: [number, number],
  width: number,
): string {
  const isBeside = place === undefined && Math.abs(x - middleX) > 0.12 * width;
  const isRight = x >= middleX;
  const [tx, ty] = isBeside
    ? [x + (isRight ? 8 : -8), y + 0.35 * labelSize]
    : [
        x,
        place === "below" || (place === undefined && y > middleY) ? y + 1.5 * labelSize : y - 0.8 * labelSize,
      ];
  const anchor = isBeside ? (isRight ? "start" : "end") : "middle";
  return (
    `<circle class="point" cx="${num(x)}" cy="${num(y)}" r="3" fill="#000"/>` +
    `<text class="label" x="${num(tx)}" y="${num(ty)}" font-size="${labelSize}" text-anchor="${anchor}" font-family="sans-serif" fill="#000">${escaped(label)}</text>`
  );
}
