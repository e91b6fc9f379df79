import { Clipper, ClipperOffset, EndType, FillRule, JoinType, type Paths64 } from "clipper2-ts";
import { loopArea, loopLength, simplifiedLoop } from "./loops";
import type { Loop } from "./slices";

/** Plane regions with holes, exact to a ten-thousandth of a millimetre. The only file that knows the clipping library. */

/** A plane region. Its outlines run counter-clockwise, its holes clockwise. */
export interface Region {
  /** Whole steps of the grid: chains of operations lose nothing on the way. */
  readonly paths: Paths64;
}

/** Steps of the grid a millimetre; products of two coordinates of a metre stay whole. */
const steps = 1e4;

/** How corners are turned when a region grows: sharp to twice the distance, then cut off square; or round. */
export type Corners = "mitred" | "round";

/**
 * The region within loops: what they wind around more than never. Points nearer than `tolerance` (mm) to the outline
 * are left out first.
 * @throws RangeError for a point that is not finite.
 */
export function regionOf(loops: readonly Loop[], tolerance = 0): Region {
  const paths: Paths64 = [];
  for (const loop of loops) {
    const simple = tolerance > 0 ? simplifiedLoop(loop, tolerance) : loop;
    if (!simple) continue;
    const path: Paths64[number] = [];
    for (let i = 0; i < simple.length; i += 2) {
      const [x, y] = [simple[i], simple[i + 1]];
      if (!Number.isFinite(x + y)) {
        throw new RangeError(`A point of a region lies at (${x}, ${y}): it must be finite.`);
      }
      path.push({ x: Math.round(x * steps), y: Math.round(y * steps) });
    }
    paths.push(path);
  }
  return { paths: Clipper.union(paths, FillRule.NonZero) };
}

/** The region's outlines, mm. */
export function regionLoops({ paths }: Region): Loop[] {
  return paths.map((path) => {
    const loop = new Float64Array(2 * path.length);
    path.forEach(({ x, y }, i) => {
      loop[2 * i] = x / steps;
      loop[2 * i + 1] = y / steps;
    });
    return loop;
  });
}

/** What of a region lies farther than `by` (mm) from its outline, mitred corners of holes apart. */
export function inset(region: Region, by: number): Region {
  return offset(region, -distance(by), "mitred");
}

/** A region grown by `by` (mm) all round; holes shrink. */
export function outset(region: Region, by: number, corners: Corners = "round"): Region {
  return offset(region, distance(by), corners);
}

function distance(by: number): number {
  if (!(by >= 0 && by < Infinity)) throw new RangeError(`The offset is ${by} mm: use zero or more.`);
  return by;
}

function offset({ paths }: Region, by: number, corners: Corners): Region {
  if (by === 0) return { paths };
  // Round corners within a hundredth of a millimetre.
  const offsetting = new ClipperOffset(2, 0.01 * steps);
  offsetting.addPaths(paths, corners === "round" ? JoinType.Round : JoinType.Miter, EndType.Polygon);
  const grown: Paths64 = [];
  offsetting.execute(by * steps, grown);
  return { paths: grown };
}

export function union(a: Region, b: Region): Region {
  return { paths: Clipper.union(a.paths, b.paths, FillRule.NonZero) };
}

export function intersection(a: Region, b: Region): Region {
  return { paths: Clipper.intersect(a.paths, b.paths, FillRule.NonZero) };
}

/** What of `a` does not lie in `b`. */
export function difference(a: Region, b: Region): Region {
  return { paths: Clipper.difference(a.paths, b.paths, FillRule.NonZero) };
}

/** mm² */
export function regionArea(region: Region): number {
  return regionLoops(region).reduce((sum, loop) => sum + loopArea(loop), 0);
}

/** Length of all outlines, holes too, mm. */
export function regionPerimeter(region: Region): number {
  return regionLoops(region).reduce((sum, loop) => sum + loopLength(loop), 0);
}
