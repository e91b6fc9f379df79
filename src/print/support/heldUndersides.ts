import type { TriangleMesh } from "../../geometry/mesh";
import { holdBeginnings } from "./beginnings";
import type { ColumnRaster } from "./columnRaster";
import { leaveReachedPatches } from "./reachedPatches";
import { beginning, leaning } from "./undersideKinds";

/** What is held up. */
export interface HeldOptions {
  /** A surface that leans out farther from the vertical is held up, degrees. */
  readonly overhangAngle: number;
  /** What begins no higher than this stands on the plate, mm. */
  readonly floor: number;
  /** Whether something else than a support holds up the surface at a place, plate's frame, mm. */
  readonly isHeld?: (x: number, y: number, z: number) => boolean;
}

/** The undersides of a raster's intervals that must be held up: an interval each, in the raster's order. */
export interface HeldUndersides {
  readonly intervals: Int32Array;
  /** Cell of each. */
  readonly cells: Int32Array;
  /** Cosine of the angle between the vertical and the normal there. */
  readonly steepness: Float32Array;
  /** The same of every interval of the raster. */
  readonly leans: Float32Array;
}

/** Sine by which a surface may exceed the overhang angle: what 32-bit coordinates take from a normal. */
const normalNoise = 5e-4;
/**
 * The undersides that must be held up. Three rules:
 *
 * 1. A surface that leans out farther from the vertical than the overhang angle (Mazlan et al. 2020: 45°).
 * 2. One that leans less and has nothing beside it, lower down, that carries it: the tip of a cone that stands on it, an
 *    edge that looks down. It is held with what surrounds it within 1 mm. A flank within the angle sinks by at least
 *    the cotangent of the angle over a step towards one of the eight cells around, less 8 % for the direction; half of it
 *    is asked for.
 * 3. A patch of the first rule is left out when all of it is reached, within 1 mm, from a surface lower down beside it that
 *    carries itself: facets that lean out by a hair, ripples where tubes meet. What begins in the air has none.
 */
export function heldUndersides(
  mesh: TriangleMesh,
  raster: ColumnRaster,
  options: HeldOptions,
): HeldUndersides {
  const leans = downwardCosines(mesh, raster);
  const held = leaningOut(raster, leans, options);
  leaveReachedPatches(raster, held, options.overhangAngle);
  holdBeginnings(mesh, raster, leans, held, options.overhangAngle, options.floor);
  return listed(raster, leans, held, options);
}

/** Cosine of the angle between each interval's underside and the vertical. */
function downwardCosines(
  { positions, triangles }: TriangleMesh,
  { lowTriangle }: ColumnRaster,
): Float32Array {
  const cosines = new Float32Array(lowTriangle.length);
  if (lowTriangle.length < triangles.length / 6) {
    // Few cells share a triangle.
    for (let i = 0; i < lowTriangle.length; i++) {
      cosines[i] = Math.abs(verticalCosine(positions, triangles, lowTriangle[i]));
    }
    return cosines;
  }
  const known = new Float32Array(triangles.length / 3).fill(-1);
  for (let i = 0; i < lowTriangle.length; i++) {
    const t = lowTriangle[i];
    if (known[t] < 0) known[t] = Math.abs(verticalCosine(positions, triangles, t));
    cosines[i] = known[t];
  }
  return cosines;
}

/** z of a triangle's unit normal; 0 where it has none. */
export function verticalCosine(positions: Float32Array, triangles: Uint32Array, t: number): number {
  const a = 3 * triangles[3 * t];
  const b = 3 * triangles[3 * t + 1];
  const c = 3 * triangles[3 * t + 2];
  const ux = positions[b] - positions[a];
  const uy = positions[b + 1] - positions[a + 1];
  const uz = positions[b + 2] - positions[a + 2];
  const vx = positions[c] - positions[a];
  const vy = positions[c + 1] - positions[a + 1];
  const vz = positions[c + 2] - positions[a + 2];
  const nx = uy * vz - uz * vy;
  const ny = uz * vx - ux * vz;
  const nz = ux * vy - uy * vx;
  const length = Math.sqrt(nx * nx + ny * ny + nz * nz);
  return length > 0 ? nz / length : 0;
}

function leaningOut(
  { low }: ColumnRaster,
  leans: Float32Array,
  { overhangAngle, floor }: HeldOptions,
): Uint8Array {
  const limit = Math.sin((overhangAngle * Math.PI) / 180) + normalNoise;
  const held = new Uint8Array(low.length);
  for (let i = 0; i < low.length; i++) if (leans[i] > limit && low[i] > floor) held[i] = leaning;
  return held;
}

function listed(
  raster: ColumnRaster,
  leans: Float32Array,
  held: Uint8Array,
  { isHeld }: HeldOptions,
): HeldUndersides {
  const { columns, rows, first, low, cell, origin } = raster;
  let count = 0;
  for (let i = 0; i < held.length; i++) if (held[i] === leaning || held[i] === beginning) count++;
  const intervals = new Int32Array(count);
  const cells = new Int32Array(count);
  const steepness = new Float32Array(count);
  count = 0;
  for (let at = 0; at < columns * rows; at++) {
    for (let i = first[at]; i < first[at + 1]; i++) {
      if (held[i] !== leaning && held[i] !== beginning) continue;
      if (isHeld) {
        const column = at % columns;
        const x = origin[0] + (column + 0.5) * cell;
        const y = origin[1] + ((at - column) / columns + 0.5) * cell;
        if (isHeld(x, y, low[i])) continue;
      }
      intervals[count] = i;
      cells[count] = at;
      steepness[count++] = leans[i];
    }
  }
  return {
    intervals: intervals.slice(0, count),
    cells: cells.slice(0, count),
    steepness: steepness.slice(0, count),
    leans,
  };
}
