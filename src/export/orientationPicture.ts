import type { Plate } from "../checks/printer";
import type { TriangleMesh } from "../geometry/mesh";
import { dot, type Vec3 } from "../geometry/vector";
import { contours, type Line } from "./sheet/contour";
import { areaOf, simplified, smoothed } from "./sheet/polyline";
import { pictureView, type View } from "./sheet/projection";
import { type Grid, rasterise } from "./sheet/raster";
import { brightness } from "./sheet/shade";
import { escaped, pathData } from "./sheet/svg";

/** Side of the picture, in its own units. */
const side = 120;
const margin = 4;
/** Pixels over the side. */
const pixels = 150;
/** Greys that stand off a white page and a black one, from the lightest to the darkest. */
const tones = ["#a6abb3", "#848a94", "#656b76"] as const;
const levels = [0.6, 0.4] as const;
/** A picture is no longer than this. */
const mostCharacters = 6000;
const rim = "#555b65";
const plateLine = "#808690";

/**
 * A small picture of a piece as it lies on the plate, in the plate's frame, seen from the front and above: a whole SVG
 * document of 120 × 120, without an identifier, a style or a text that is shown, so that many can stand on a page. Its
 * greys serve on light and on dark.
 * @param title what a reader is told who does not see it
 * @throws RangeError for a mesh without triangles or with places that are not finite
 */
export function orientationPicture(
  { mesh }: { readonly mesh: TriangleMesh },
  plate: Plate,
  title: string,
): string {
  const view = pictureView("picture", "", 205, 28);
  const outline = plateOutline(plate);
  const window = windowOf(mesh, outline, view);
  const pixel = window.side / pixels;
  const grid: Grid = { left: window.left, top: window.top, pixel, width: pixels, height: pixels };
  const scale = (side - 2 * margin) / pixels;
  const place = (x: number, y: number): [number, number] => [margin + x * scale, margin + y * scale];
  const raster = rasterise(mesh, view, grid);
  const mask = Float32Array.from(raster.triangle, (t) => (t < 0 ? 1 : 0));
  const shade = brightness(mesh, raster, view, grid, window.side / 20, 2);
  const corners = outline.flatMap((point) => [
    (dot(point, view.right) - window.left) / pixel,
    (window.top - dot(point, view.up)) / pixel,
  ]);
  const ground = pathData([{ points: corners, closed: true }], place);
  const opening =
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${side} ${side}" width="${side}" height="${side}" role="img">` +
    `<title>${escaped(title)}</title>` +
    `<path fill="${plateLine}" fill-opacity="0.16" stroke="${plateLine}" stroke-width="0.8" stroke-linejoin="round" d="${ground}"/>`;
  const drawn = (tolerance: number): string => {
    const whole = pathData(outlines(mask, 0.5, 8, tolerance), place);
    const darker = levels.map((level, i) => {
      const d = pathData(outlines(shade, level, 14, 1.3 * tolerance), place);
      return d === "" ? "" : `<path fill="${tones[i + 1]}" fill-rule="evenodd" d="${d}"/>`;
    });
    return (
      `${opening}<path fill="${tones[0]}" fill-rule="evenodd" d="${whole}"/>${darker.join("")}` +
      `<path fill="none" stroke="${rim}" stroke-width="0.7" stroke-linejoin="round" d="${whole}"/></svg>`
    );
  };
  let tolerance = 0.45;
  let picture = drawn(tolerance);
  // What is full of small things is drawn the more roughly.
  while (picture.length > mostCharacters && tolerance < 4) {
    tolerance *= 1.5;
    picture = drawn(tolerance);
  }
  return picture;
}

function plateOutline(plate: Plate): Vec3[] {
  if (plate.shape === "round") {
    return Array.from({ length: 48 }, (_, i): Vec3 => {
      const angle = (i * Math.PI) / 24;
      return [(plate.diameter / 2) * Math.cos(angle), (plate.diameter / 2) * Math.sin(angle), 0];
    });
  }
  const [x, y] = [plate.width / 2, plate.depth / 2];
  return [
    [-x, -y, 0],
    [x, -y, 0],
    [x, y, 0],
    [-x, y, 0],
  ];
}

/** A square that shows plate and piece, mm. */
function windowOf(
  { positions, triangles }: TriangleMesh,
  outline: readonly Vec3[],
  { right, up }: View,
): { left: number; top: number; side: number } {
  if (triangles.length === 0) throw new RangeError("The mesh has no triangles: there is nothing to draw.");
  let [least, most, bottom, top] = [Infinity, -Infinity, Infinity, -Infinity];
  const show = (x: number, y: number, z: number): void => {
    const u = x * right[0] + y * right[1] + z * right[2];
    const v = x * up[0] + y * up[1] + z * up[2];
    if (u < least) least = u;
    if (u > most) most = u;
    if (v < bottom) bottom = v;
    if (v > top) top = v;
  };
  for (let i = 0; i < positions.length; i += 3) show(positions[i], positions[i + 1], positions[i + 2]);
  for (const point of outline) show(...point);
  const size = 1.04 * Math.max(most - least, top - bottom);
  if (!(size > 0) || !Number.isFinite(size)) {
    throw new RangeError(`The picture would be ${size} mm wide: it must be finite and above zero.`);
  }
  return { left: (least + most - size) / 2, top: (bottom + top + size) / 2, side: size };
}

/** Closed lines about what is below a level, those about more than so many pixels, in pixels. */
const outlines = (field: Float32Array, level: number, leastArea: number, tolerance: number): Line[] =>
  contours(field, pixels, pixels, level)
    .filter((line) => Math.abs(areaOf(line)) > leastArea)
    .map((line) => simplified(smoothed(line, 3), tolerance));
