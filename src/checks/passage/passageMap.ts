import type { TriangleMesh } from "../../geometry/mesh";
import { alongMotion, type Motion } from "./passageMotion";

/** A surface as a motion sees it: u, v, w of each vertex in turn (`alongMotion`), and its triangles. */
export interface SeenSurface {
  readonly motion: Motion;
  readonly points: Float32Array;
  readonly triangles: Uint32Array;
}

export const seenSurface = ({ positions, triangles }: TriangleMesh, motion: Motion): SeenSurface => ({
  motion,
  points: alongMotion(positions, motion, new Float32Array(positions.length)),
  triangles,
});

/** Where a surface lies on each line of a motion, on a square grid across it. */
export interface PassageMap {
  readonly motion: Motion;
  /** Side of a cell, mm. */
  readonly cell: number;
  /** Centre of the first cell. */
  readonly u0: number;
  readonly v0: number;
  readonly columns: number;
  readonly rows: number;
  /** Greatest w on the line through a cell's centre; −Infinity where there is no surface. */
  readonly high: Float32Array;
  /** Least w, for a hinge only: a part that hangs before the axis swings towards the head from below. */
  readonly low: Float32Array | undefined;
}

/** Extent of a surface that a hinge's axis runs through, or that reaches past it: nothing gets by. */
export const throughAxis = 100;

/** Whether a triangle reaches over the cut of a hinge's angle: angles of its corners against the first's, rad. */
export const isTorn = (b: number, c: number): boolean =>
  Math.abs(b) > 3 || Math.abs(c) > 3 || Math.abs(b - c) > 3;

/** The least rectangle across the motion round points: u, v, w of each in turn. Turned inside out for none. */
export function extentAcross(points: ArrayLike<number>): {
  readonly u0: number;
  readonly v0: number;
  readonly u1: number;
  readonly v1: number;
} {
  let [u0, v0, u1, v1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < points.length; i += 3) {
    if (points[i] < u0) u0 = points[i];
    if (points[i] > u1) u1 = points[i];
    if (points[i + 1] < v0) v0 = points[i + 1];
    if (points[i + 1] > v1) v1 = points[i + 1];
  }
  return { u0, v0, u1, v1 };
}

/** Maps a surface for a motion. */
export function passageMap(surface: SeenSurface, cell: number): PassageMap {
  const { motion, points, triangles } = surface;
  const { u0, v0, u1, v1 } = extentAcross(points);
  const columns = u1 >= u0 ? Math.floor((u1 - u0) / cell) + 2 : 0;
  const rows = v1 >= v0 ? Math.floor((v1 - v0) / cell) + 2 : 0;
  const high = new Float32Array(columns * rows).fill(-Infinity);
  const low = motion.kind === "hinge" ? new Float32Array(columns * rows).fill(Infinity) : undefined;
  const k = 1 / cell;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [3 * triangles[t], 3 * triangles[t + 1], 3 * triangles[t + 2]];
    // In cells, so that centres are whole numbers.
    const au = (points[a] - u0) * k;
    const av = (points[a + 1] - v0) * k;
    const bu = (points[b] - u0) * k;
    const bv = (points[b + 1] - v0) * k;
    const cu = (points[c] - u0) * k;
    const cv = (points[c + 1] - v0) * k;
    const firstRow = Math.max(0, Math.ceil(Math.min(av, bv, cv)));
    const lastRow = Math.min(rows - 1, Math.floor(Math.max(av, bv, cv)));
    if (!(firstRow <= lastRow)) continue;
    const firstColumn = Math.max(0, Math.ceil(Math.min(au, bu, cu)));
    const lastColumn = Math.min(columns - 1, Math.floor(Math.max(au, bu, cu)));
    if (!(firstColumn <= lastColumn)) continue;
    const twice = (bu - au) * (cv - av) - (cu - au) * (bv - av);
    if (twice === 0) continue;
    const aw = points[a + 2];
    const bw = points[b + 2] - aw;
    const cw = points[c + 2] - aw;
    const torn = low !== undefined && isTorn(bw, cw);
    const inverse = 1 / twice;
    // Weights of b and c: linear over the grid.
    const bStepU = (cv - av) * inverse;
    const bStepV = -(cu - au) * inverse;
    const cStepU = -(bv - av) * inverse;
    const cStepV = (bu - au) * inverse;
    for (let row = firstRow; row <= lastRow; row++) {
      let b1 = bStepU * (firstColumn - au) + bStepV * (row - av);
      let c1 = cStepU * (firstColumn - au) + cStepV * (row - av);
      let at = row * columns + firstColumn;
      for (let column = firstColumn; column <= lastColumn; column++, at++, b1 += bStepU, c1 += cStepU) {
        if (b1 < -1e-6 || c1 < -1e-6 || b1 + c1 > 1.000001) continue;
        if (torn) {
          high[at] = throughAxis;
          low[at] = -throughAxis;
          continue;
        }
        const w = aw + b1 * bw + c1 * cw;
        if (w > high[at]) high[at] = w;
        if (low && w < low[at]) low[at] = w;
      }
    }
  }
  return { motion, cell, u0, v0, columns, rows, high, low };
}

/**
 * Whether a surface with these extents on a line stops a point of the line on its way: on a slide one that is higher
 * than it; on a hinge one that it meets within the turn.
 */
export function stops(high: number, low: number, w: number, turn: number): boolean {
  if (turn === 0) return w < high;
  return (w < high && w + turn > low) || w + turn > low + 2 * Math.PI;
}

/** The turn that {@link stops} asks for: 0 for a slide. */
export const turnOf = (motion: Motion): number => (motion.kind === "hinge" ? motion.turn : 0);
