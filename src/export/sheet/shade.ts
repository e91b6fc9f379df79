import type { TriangleMesh } from "../../geometry/mesh";
import { dot, normalize, type Vec3 } from "../../geometry/vector";
import type { View } from "./projection";
import type { Grid, Raster } from "./raster";

/** Light from the upper left and the viewer's side, as on an engraved plate: along right, up and towards. */
const light = normalize([-0.5, 0.62, 0.6]);

/**
 * Brightness of each seen pixel, 0 to 1, and 1 where nothing is seen: light falling on the surface, less what
 * lies just behind something nearer (depth darkening: Luft, Colditz, Deussen 2006, "Image enhancement by unsharp masking
 * the depth buffer"). Facets are smoothed away within one surface. `reach` is how far, in mm, things cast
 * their darkness (0 for none), `blur` how many pixels the smoothing takes in on either side.
 */
export function brightness(
  mesh: TriangleMesh,
  raster: Raster,
  view: View,
  grid: Grid,
  reach: number,
  blur: number,
): Float32Array {
  const lit = litPixels(mesh, raster, view);
  const smooth = smoothWithin(lit, raster, grid, blur);
  const behind = reach > 0 ? depthBelowSurroundings(raster, grid, reach) : undefined;
  for (let i = 0; i < smooth.length; i++) {
    if (raster.triangle[i] < 0) smooth[i] = 1;
    else if (behind !== undefined) smooth[i] = Math.max(0, smooth[i] - 0.42 * behind[i]);
  }
  return smooth;
}

function litPixels({ positions, triangles }: TriangleMesh, { triangle }: Raster, view: View): Float32Array {
  const bright = new Float32Array(triangles.length / 3).fill(-1);
  const direction: Vec3 = [0, 1, 2].map(
    (axis) => light[0] * view.right[axis] + light[1] * view.up[axis] + light[2] * view.towards[axis],
  ) as unknown as Vec3;
  const of = (t: number): number => {
    const [a, b, c] = [3 * triangles[3 * t], 3 * triangles[3 * t + 1], 3 * triangles[3 * t + 2]];
    const ux = positions[b] - positions[a];
    const uy = positions[b + 1] - positions[a + 1];
    const uz = positions[b + 2] - positions[a + 2];
    const vx = positions[c] - positions[a];
    const vy = positions[c + 1] - positions[a + 1];
    const vz = positions[c + 2] - positions[a + 2];
    const normal = normalize([uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx]);
    // Half Lambert: the dark side keeps its form.
    return 0.5 + 0.5 * dot(normal, direction);
  };
  const lit = new Float32Array(triangle.length);
  for (let i = 0; i < triangle.length; i++) {
    const t = triangle[i];
    if (t < 0) continue;
    if (bright[t] < 0) bright[t] = of(t);
    lit[i] = bright[t];
  }
  return lit;
}

/** Farther apart in depth than this times the distance in pixels, two pixels belong to different surfaces, mm. */
const sameSurface = 2.5;

/** A mean over the pixels around, along rows and then columns, that stops where the depth jumps. */
function smoothWithin(
  values: Float32Array,
  { depth, triangle }: Raster,
  grid: Grid,
  radius: number,
): Float32Array {
  const { width, height } = grid;
  const pass = (
    from: Float32Array,
    step: number,
    length: number,
    lines: number,
    lineStep: number,
  ): Float32Array => {
    const to = new Float32Array(from.length);
    for (let line = 0; line < lines; line++) {
      for (let k = 0; k < length; k++) {
        const at = line * lineStep + k * step;
        if (triangle[at] < 0) continue;
        let sum = from[at];
        let weight = 1;
        for (const way of [-1, 1]) {
          let last = depth[at];
          for (let r = 1; r <= radius; r++) {
            const other = k + way * r;
            if (other < 0 || other >= length) break;
            const there = at + way * r * step;
            if (triangle[there] < 0 || Math.abs(depth[there] - last) > sameSurface) break;
            last = depth[there];
            const w = 1 - r / (radius + 1);
            sum += w * from[there];
            weight += w;
          }
        }
        to[at] = sum / weight;
      }
    }
    return to;
  };
  return pass(pass(values, 1, width, height, width), width, height, width, 1);
}

/** How far each pixel lies behind the mean of its surroundings, as a share of `reach`, 0 to 1. */
function depthBelowSurroundings({ depth, triangle }: Raster, grid: Grid, reach: number): Float32Array {
  const { width, height, pixel } = grid;
  const radius = Math.max(2, Math.round(reach / pixel / 2));
  const above = new Float32Array(depth.length);
  // Means of depth by running sums, rows then columns; what is empty counts as the pixel's own depth by weight 0.
  const sum = new Float32Array(depth.length);
  const weight = new Float32Array(depth.length);
  for (let row = 0; row < height; row++) {
    let total = 0;
    let count = 0;
    const base = row * width;
    for (let k = -radius; k < width; k++) {
      const entering = k + radius;
      if (entering < width && triangle[base + entering] >= 0) {
        total += depth[base + entering];
        count++;
      }
      const leaving = k - radius - 1;
      if (leaving >= 0 && triangle[base + leaving] >= 0) {
        total -= depth[base + leaving];
        count--;
      }
      if (k >= 0) {
        sum[base + k] = total;
        weight[base + k] = count;
      }
    }
  }
  for (let column = 0; column < width; column++) {
    let total = 0;
    let count = 0;
    for (let k = -radius; k < height; k++) {
      const entering = k + radius;
      if (entering < height) {
        total += sum[entering * width + column];
        count += weight[entering * width + column];
      }
      const leaving = k - radius - 1;
      if (leaving >= 0) {
        total -= sum[leaving * width + column];
        count -= weight[leaving * width + column];
      }
      if (k < 0) continue;
      const at = k * width + column;
      if (triangle[at] < 0 || count < 1) continue;
      above[at] = Math.min(1, Math.max(0, (total / count - depth[at]) / reach));
    }
  }
  return above;
}
