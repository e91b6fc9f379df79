import type { TriangleMesh } from "../../geometry/mesh";
import type { View } from "./projection";

/** A window of square pixels over a view. Pixel (i, j) has its centre at left + (i + ½)·pixel, top − (j + ½)·pixel. */
export interface Grid {
  readonly left: number;
  readonly top: number;
  /** mm */
  readonly pixel: number;
  readonly width: number;
  readonly height: number;
}

/** What is seen in each pixel: how near (mm along the view, −Infinity for nothing) and which triangle (−1 for none). */
export interface Raster {
  readonly depth: Float32Array;
  readonly triangle: Int32Array;
}

/** Draws the front of a closed mesh into a depth buffer. */
export function rasterise({ positions, triangles }: TriangleMesh, view: View, grid: Grid): Raster {
  const { width, height, pixel } = grid;
  const depth = new Float32Array(width * height).fill(-Infinity);
  const triangle = new Int32Array(width * height).fill(-1);
  const count = positions.length / 3;
  const u = new Float64Array(count);
  const v = new Float64Array(count);
  const d = new Float64Array(count);
  const { right, up, towards } = view;
  for (let i = 0; i < count; i++) {
    const x = positions[3 * i];
    const y = positions[3 * i + 1];
    const z = positions[3 * i + 2];
    // In pixels, so that the centre of pixel (i, j) is the point (i, j).
    u[i] = (x * right[0] + y * right[1] + z * right[2] - grid.left) / pixel - 0.5;
    v[i] = (grid.top - (x * up[0] + y * up[1] + z * up[2])) / pixel - 0.5;
    d[i] = x * towards[0] + y * towards[1] + z * towards[2];
  }
  for (let t = 0; 3 * t < triangles.length; t++) {
    const a = triangles[3 * t];
    const b = triangles[3 * t + 1];
    const c = triangles[3 * t + 2];
    // Rows run downwards: triangles that face the viewer turn clockwise.
    const area = (v[b] - v[a]) * (u[c] - u[a]) - (u[b] - u[a]) * (v[c] - v[a]);
    if (area <= 0) continue;
    const firstRow = Math.max(0, Math.ceil(Math.min(v[a], v[b], v[c])));
    const lastRow = Math.min(height - 1, Math.floor(Math.max(v[a], v[b], v[c])));
    const firstColumn = Math.max(0, Math.ceil(Math.min(u[a], u[b], u[c])));
    const lastColumn = Math.min(width - 1, Math.floor(Math.max(u[a], u[b], u[c])));
    const perArea = 1 / area;
    for (let row = firstRow; row <= lastRow; row++) {
      for (let column = firstColumn; column <= lastColumn; column++) {
        const wa = (v[c] - v[b]) * (column - u[b]) - (u[c] - u[b]) * (row - v[b]);
        if (wa < 0) continue;
        const wb = (v[a] - v[c]) * (column - u[c]) - (u[a] - u[c]) * (row - v[c]);
        if (wb < 0) continue;
        const wc = (v[b] - v[a]) * (column - u[a]) - (u[b] - u[a]) * (row - v[a]);
        if (wc < 0) continue;
        const near = (wa * d[a] + wb * d[b] + wc * d[c]) * perArea;
        const at = row * width + column;
        if (near > depth[at]) {
          depth[at] = near;
          triangle[at] = t;
        }
      }
    }
  }
  return { depth, triangle };
}
