import type { TriangleMesh } from "../geometry/mesh";
import { contours, type Line } from "./sheet/contour";
import { areaOf, simplified, smoothed } from "./sheet/polyline";
import { extentOf, joined, pictureView } from "./sheet/projection";
import { type Grid, type Raster, rasterise } from "./sheet/raster";
import { brightness } from "./sheet/shade";
import { escaped, pathData } from "./sheet/svg";

/** Side of the picture, in its own units. */
const side = 160;
const margin = 3;
/** Pixels over the side. */
const pixels = 180;
/** From the wearer's right front, a little from above: azimuth and elevation, degrees. */
const from = [38, 14] as const;
/** So much of the head is shown below the brow, mm: a piece is looked at, not a bust. */
const shownBelow = 120;
const headTone = "#b9bec6";
const headLine = "#8a909a";
/** Of the piece, from the lightest to the darkest; they stand off the head, a white page and a black one. */
const tones = ["#c98a4b", "#a86b32", "#7d4c20"] as const;
const levels = [0.6, 0.4] as const;
const rim = "#5d3817";
/** A picture is no longer than this. */
const mostCharacters = 12_000;

/**
 * A small picture of a piece on a head, head frame, seen from the wearer's right front: a whole SVG document of
 * 160 × 160, without an identifier or a style, so that many can stand on a page, light or dark.
 * @param title what a reader is told who does not see it
 * @throws RangeError for a piece without triangles or with places that are not finite
 */
export function refitPicture(piece: TriangleMesh, head: TriangleMesh, title: string): string {
  if (piece.triangles.length === 0)
    throw new RangeError("The mesh has no triangles: there is nothing to draw.");
  const view = pictureView("picture", "", ...from);
  const own = extentOf(piece, view);
  const around = extentOf(head, view);
  const shown = joined(own, {
    ...around,
    bottom: Math.min(own.bottom, Math.max(around.bottom, -shownBelow)),
  });
  const size = 1.03 * Math.max(shown.right - shown.left, shown.top - shown.bottom);
  if (!(size > 0) || !Number.isFinite(size)) {
    throw new RangeError(`The picture would be ${size} mm wide: it must be finite and above zero.`);
  }
  const grid: Grid = {
    left: (shown.left + shown.right - size) / 2,
    top: (shown.top + shown.bottom + size) / 2,
    pixel: size / pixels,
    width: pixels,
    height: pixels,
  };
  const scale = (side - 2 * margin) / pixels;
  const place = (x: number, y: number): [number, number] => [margin + x * scale, margin + y * scale];
  const ofHead = rasterise(head, view, grid);
  const seen = visible(rasterise(piece, view, grid), ofHead);
  const [headMask, pieceMask] = [maskOf(ofHead), maskOf(seen)];
  const shade = brightness(piece, seen, view, grid, size / 20, 2);
  const opening =
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${side} ${side}" width="${side}" height="${side}" role="img">` +
    `<title>${escaped(title)}</title>`;
  const drawn = (tolerance: number): string => {
    const data = (field: Float32Array, level: number, least: number, rough = 1) =>
      pathData(outlines(field, level, least, rough * tolerance), place);
    const whole = data(pieceMask, 0.5, 4);
    const darker = levels.map((level, i) => {
      const d = data(shade, level, 14, 1.3);
      return d === "" ? "" : `<path fill="${tones[i + 1]}" fill-rule="evenodd" d="${d}"/>`;
    });
    return (
      `${opening}<path fill="${headTone}" fill-opacity="0.55" stroke="${headLine}" stroke-width="0.7" d="${data(headMask, 0.5, 20, 1.5)}"/>` +
      `<path fill="${tones[0]}" fill-rule="evenodd" d="${whole}"/>${darker.join("")}` +
      `<path fill="none" stroke="${rim}" stroke-width="0.6" stroke-linejoin="round" d="${whole}"/></svg>`
    );
  };
  let tolerance = 0.4;
  let picture = drawn(tolerance);
  // What is full of small things is drawn the more roughly.
  while (picture.length > mostCharacters && tolerance < 4) {
    tolerance *= 1.5;
    picture = drawn(tolerance);
  }
  return picture;
}

/** What of the piece is not hidden by the head. */
function visible({ depth, triangle }: Raster, head: Raster): Raster {
  const seen = { depth: depth.slice(), triangle: triangle.slice() };
  for (let i = 0; i < depth.length; i++) {
    if (triangle[i] < 0 || head.depth[i] <= depth[i] + 0.05) continue;
    seen.triangle[i] = -1;
    seen.depth[i] = -Infinity;
  }
  return seen;
}

const maskOf = ({ triangle }: Raster): Float32Array => Float32Array.from(triangle, (t) => (t < 0 ? 1 : 0));

/** Closed lines about what is below a level, those about more than so many pixels, in pixels. */
const outlines = (field: Float32Array, level: number, leastArea: number, tolerance: number): Line[] =>
  contours(field, pixels, pixels, level)
    .filter((line) => Math.abs(areaOf(line)) > leastArea)
    .map((line) => simplified(smoothed(line, 3), tolerance));
