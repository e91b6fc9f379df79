import type { PartMesh, TriangleMesh } from "../../geometry/mesh";
import { contours, type Line } from "./contour";
import { chainCracks } from "./cracks";
import { headLevels, palette, pieceLevels, widths } from "./palette";
import { areaOf, lengthOf, simplified, smoothed } from "./polyline";
import type { Extent, View } from "./projection";
import { type Grid, type Raster, rasterise } from "./raster";
import { brightness } from "./shade";
import { num, pathData } from "./svg";

/** Side of a pixel on paper, mm. */
const pixelOnPaper = 0.22;
/** Kinds of inner line. */
const overlap = 1;
const seam = 2;

export interface Picture {
  readonly piece: PartMesh;
  readonly head: TriangleMesh;
  readonly view: View;
  /** What of the world is drawn, mm. */
  readonly window: Extent;
  /** Paper mm of the window's left top corner. */
  readonly at: readonly [number, number];
  /** Millimetres of the world for one of paper. */
  readonly reduction: number;
}

/**
 * One view as SVG: the head in light tones, the piece over it with tones, seams, overlaps and outline, the head's outline
 * dashed where the piece hides it, and the piece's where the head hides it.
 */
export function viewPicture({ piece, head, view, window, at, reduction }: Picture): string {
  const pixel = pixelOnPaper * reduction;
  const grid: Grid = {
    left: window.left - 3 * pixel,
    top: window.top + 3 * pixel,
    pixel,
    width: Math.ceil((window.right - window.left) / pixel) + 6,
    height: Math.ceil((window.top - window.bottom) / pixel) + 6,
  };
  const place = (x: number, y: number): [number, number] => [
    at[0] + (x - 3) * pixelOnPaper,
    at[1] + (y - 3) * pixelOnPaper,
  ];
  const ofHead = rasterise(head, view, grid);
  const ofPiece = rasterise(piece, view, grid);
  const seen = visible(ofPiece, ofHead);
  const cover = (raster: Raster, leastArea = 0.06): Line[] => outlines(raster, grid, leastArea);

  const headOutline = pathData(cover(ofHead), place);
  const wholePiece = pathData(cover(ofPiece, 4), place);
  const seenPiece = pathData(cover(seen), place);
  const id = (what: string): string => `${view.name}-${what}`;
  const path = (attributes: string, d: string): string => (d === "" ? "" : `<path ${attributes} d="${d}"/>`);

  const headShade = brightness(head, ofHead, view, grid, 0, 12);
  const pieceShade = brightness(piece, seen, view, grid, 16, 5);
  const inner = innerLines(piece, seen, grid);
  const details = headDetails(head, ofHead, grid);
  const bottom = at[1] + (window.top - window.bottom) / reduction;
  return [
    `<g id="${id("view")}" class="view" data-reduction="${num(reduction)}" stroke-linejoin="round" stroke-linecap="round">`,
    `<clipPath id="${id("piece-area")}"><path clip-rule="evenodd" d="${seenPiece}"/></clipPath>`,
    `<clipPath id="${id("head-area")}"><path d="${headOutline}"/></clipPath>`,
    `<clipPath id="${id("window")}"><rect x="${num(at[0] - 2)}" y="${num(at[1] - 2)}" width="${num((window.right - window.left) / reduction + 4)}" height="${num(bottom - at[1] + 2)}"/></clipPath>`,
    `<g class="head" clip-path="url(#${id("window")})">`,
    path(`fill="${palette.head[0]}" fill-rule="evenodd"`, headOutline),
    ...tones(headShade, grid, headLevels, palette.head.slice(1), place),
    path(
      `fill="none" stroke="${palette.headLine}" stroke-width="${widths.headDetail}"`,
      pathData(details, place),
    ),
    path(
      `class="head-outline" fill="none" stroke="${palette.headLine}" stroke-width="${widths.head}"`,
      headOutline,
    ),
    "</g>",
    // Hidden behind the head: dashed, thin, only over the head.
    path(
      `class="piece-whole" clip-path="url(#${id("head-area")})" fill="none" stroke="${palette.inkSoft}" stroke-width="0.14" stroke-dasharray="1.1 0.9"`,
      wholePiece,
    ),
    '<g class="piece">',
    path(`class="piece-seen" fill="${palette.piece[0]}" fill-rule="evenodd"`, seenPiece),
    ...tones(pieceShade, grid, pieceLevels, palette.piece.slice(1), place),
    path(
      `fill="none" stroke="${palette.pieceLine}" stroke-opacity="0.55" stroke-width="${widths.seam}"`,
      pathData(inner.get(seam) ?? [], place),
    ),
    path(
      `fill="none" stroke="${palette.pieceLine}" stroke-width="${widths.overlap}"`,
      pathData(inner.get(overlap) ?? [], place),
    ),
    "</g>",
    path(
      `class="head-inside" clip-path="url(#${id("piece-area")})" fill="none" stroke="${palette.headHidden}" stroke-width="0.2" stroke-dasharray="1.6 1"`,
      headOutline,
    ),
    path(
      `class="piece-outline" fill="none" stroke="${palette.pieceLine}" stroke-width="${widths.outline}"`,
      seenPiece,
    ),
    "</g>",
  ]
    .filter((line) => line !== "")
    .join("\n");
}

/** What of the piece is not hidden by the head. */
function visible(piece: Raster, head: Raster): Raster {
  const depth = piece.depth.slice();
  const triangle = piece.triangle.slice();
  for (let i = 0; i < depth.length; i++) {
    if (triangle[i] >= 0 && head.depth[i] > depth[i] + 0.05) {
      triangle[i] = -1;
      depth[i] = -Infinity;
    }
  }
  return { depth, triangle };
}

/** Outlines of what a raster covers: the mask blurred by half a pixel and cut at one half, so that edges run smooth. */
function outlines({ triangle }: Raster, { width, height }: Grid, leastArea: number): Line[] {
  const mask = new Float32Array(width * height);
  for (let i = 0; i < mask.length; i++) mask[i] = triangle[i] < 0 ? 1 : 0;
  const blurred = blurOnce(mask, width, height);
  return contours(blurred, width, height, 0.5)
    .filter((line) => Math.abs(areaOf(line)) * pixelOnPaper ** 2 > leastArea)
    .map((line) => simplified(smoothed(line, 6), 0.12));
}

/** A binomial blur of 3 × 3. */
function blurOnce(from: Float32Array, width: number, height: number): Float32Array {
  const across = from.slice();
  for (let row = 0; row < height; row++) {
    for (let k = row * width + 1; k < (row + 1) * width - 1; k++) {
      across[k] = from[k] / 2 + (from[k - 1] + from[k + 1]) / 4;
    }
  }
  const both = across.slice();
  for (let k = width; k < width * (height - 1); k++) {
    both[k] = across[k] / 2 + (across[k - width] + across[k + width]) / 4;
  }
  return both;
}

/** One filled path for each darker tone, the lighter first. */
function tones(
  shade: Float32Array,
  { width, height }: Grid,
  levels: readonly number[],
  colours: readonly string[],
  place: (x: number, y: number) => [number, number],
): string[] {
  return levels.map((level, i) => {
    const lines = contours(shade, width, height, level)
      .filter((line) => Math.abs(areaOf(line)) * pixelOnPaper ** 2 > 0.35)
      .map((line) => simplified(smoothed(line, 4), 0.22));
    const d = pathData(lines, place);
    return d === "" ? "" : `<path fill="${colours[i]}" fill-rule="evenodd" d="${d}"/>`;
  });
}

/** Lines within the piece: where one surface passes before another, and where parts or faces meet. */
function innerLines(
  piece: PartMesh,
  { depth, triangle }: Raster,
  { width, height, pixel }: Grid,
): Map<number, Line[]> {
  const part = piece.partOfTriangle;
  const gap = Math.max(2.2, 4 * pixel);
  const kind = (a: number, b: number): number => {
    const s = triangle[a];
    const t = triangle[b];
    if (s < 0 || t < 0) return 0;
    const jump = Math.abs(depth[a] - depth[b]);
    const apart = part[s] !== part[t];
    // Between two parts a smaller step is enough than within one.
    if (jump > (apart ? 0.6 : 1) * gap && jump > 1.6 * slopeBeside(depth, a, b)) return overlap;
    return apart ? seam : 0;
  };
  const lines = chainCracks(width, height, kind);
  for (const [name, list] of lines) {
    const least = (name === seam ? 1.6 : 1) / pixelOnPaper;
    lines.set(
      name,
      list.filter((line) => lengthOf(line) > least).map((line) => simplified(smoothed(line, 10), 0.16)),
    );
  }
  return lines;
}

/** How far depth runs on either side of two neighbours: a steep slope is no jump. */
function slopeBeside(depth: Float32Array, a: number, b: number): number {
  const before = depth[2 * a - b];
  const after = depth[2 * b - a];
  const one = Number.isFinite(before) ? Math.abs(depth[a] - before) : 0;
  const other = Number.isFinite(after) ? Math.abs(after - depth[b]) : 0;
  return Math.max(one, other);
}

/** Lines of the face and the ears: where the head passes before itself. */
function headDetails(
  head: TriangleMesh,
  { depth, triangle }: Raster,
  { width, height, pixel }: Grid,
): Line[] {
  if (head.triangles.length === 0) return [];
  const gap = Math.max(2.4, 3.5 * pixel);
  const kind = (a: number, b: number): number => {
    if (triangle[a] < 0 || triangle[b] < 0) return 0;
    const jump = Math.abs(depth[a] - depth[b]);
    return jump > gap && jump > 2.2 * slopeBeside(depth, a, b) ? overlap : 0;
  };
  return (chainCracks(width, height, kind).get(overlap) ?? [])
    .filter((line) => lengthOf(line) * pixelOnPaper > 2.5)
    .map((line) => simplified(smoothed(line, 10), 0.16));
}
