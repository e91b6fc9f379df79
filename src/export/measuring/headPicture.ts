import type { TriangleMesh } from "../../geometry/mesh";
import { contours, type Line } from "../sheet/contour";
import { chainCracks } from "../sheet/cracks";
import { areaOf, lengthOf, simplified, smoothed } from "../sheet/polyline";
import type { Extent, View } from "../sheet/projection";
import { type Grid, type Raster, rasterise } from "../sheet/raster";
import { brightness } from "../sheet/shade";

/** A head as lines, in mm of the view: right and up. */
export interface HeadPicture {
  readonly outline: readonly Line[];
  /** Darker areas, the lighter first. */
  readonly tones: readonly (readonly Line[])[];
  /** Where the head passes before itself: nose, ears, chin. */
  readonly details: readonly Line[];
  /** Whether a point of the head at `depth` (mm towards the viewer) is seen. */
  isSeen(right: number, up: number, depth: number): boolean;
}

/** Pixels over the height of the window. */
const rows = 330;
/** What is drawn beyond the window, so that its rim shows no lines of its own, mm. */
const beyond = 12;
const toneLevels = [0.78, 0.62, 0.46, 0.32];
/** A point may lie so far behind what is seen there and still count as on it, mm. */
const skin = 4;

/** Draws a head from one side. */
export function headPicture(head: TriangleMesh, view: View, window: Extent): HeadPicture {
  const pixel = (window.top - window.bottom) / rows;
  const left = window.left - beyond;
  const right = window.right + beyond;
  const bottom = window.bottom - beyond;
  const top = window.top + beyond;
  const grid: Grid = {
    left,
    top,
    pixel,
    width: Math.ceil((right - left) / pixel),
    height: Math.ceil((top - bottom) / pixel),
  };
  const raster = rasterise(head, view, grid);
  const world = ({ points, closed }: Line): Line => ({
    closed,
    points: points.map((value, i) => (i % 2 === 0 ? left + value * pixel : top - value * pixel)),
  });
  const areas = (field: Float32Array, level: number, least: number): Line[] =>
    contours(field, grid.width, grid.height, level)
      .filter((line) => Math.abs(areaOf(line)) > least)
      .map((line) => world(simplified(smoothed(line, 6), 0.2)));
  const mask = Float32Array.from(raster.triangle, (triangle) => (triangle < 0 ? 1 : 0));
  const shade = brightness(head, raster, view, grid, 0, 3);
  return {
    outline: areas(mask, 0.5, 30),
    tones: toneLevels.map((level) => areas(shade, level, 40)),
    details: creases(raster, grid).map(world),
    isSeen(u, v, depth) {
      const i = Math.floor((u - left) / pixel);
      const j = Math.floor((top - v) / pixel);
      if (i < 0 || j < 0 || i >= grid.width || j >= grid.height) return true;
      return depth > raster.depth[j * grid.width + i] - skin;
    },
  };
}

/** Where depth jumps from one pixel to the next. */
function creases({ depth, triangle }: Raster, { width, height, pixel }: Grid): Line[] {
  const jumps = (a: number, b: number): number => {
    // At its rim the head turns away steeply; that is no crease.
    for (let k = 0; k < 5; k++) {
      if (!(triangle[a - k * (b - a)] >= 0) || !(triangle[b + k * (b - a)] >= 0)) return 0;
    }
    const slope = Math.max(Math.abs(depth[a] - depth[2 * a - b]), Math.abs(depth[2 * b - a] - depth[b]));
    const jump = Math.abs(depth[a] - depth[b]);
    return jump > 2.2 * pixel && jump > 2.2 * (Number.isFinite(slope) ? slope : 0) ? 1 : 0;
  };
  return (chainCracks(width, height, jumps).get(1) ?? [])
    .filter((line) => lengthOf(line) > 7)
    .map((line) => simplified(smoothed(line, 8), 0.3));
}
