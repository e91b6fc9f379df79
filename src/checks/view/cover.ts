import type { TriangleMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
import { putInGrid, SeenTriangle } from "./seenTriangle";
import { directionGrid, sightReach } from "./visualField";

/** What of a mesh covers the directions of the {@link directionGrid}, seen from a point. */
export interface Cover {
  readonly from: Vec3;
  /** For each cell the first triangle in its direction, −1 where there is none. */
  readonly triangles: Int32Array;
  /** For each cell one over the distance to it, 1/mm; 0 where there is none. */
  readonly nearness: Float32Array;
}

/** Triangles are drawn once they span no more than this, rad: their sides then are nearly straight in the grid. */
const smallSpan = (6 * Math.PI) / 180;
const smallCosine = Math.cos(smallSpan);
/** A small triangle with all corners beyond this lies outside the grid. */
const outside = Math.cos(((sightReach + 1) * Math.PI) / 180);
/** A triangle that reaches all round is halved about five times along each side. */
const mostHalvings = 24;

const { size, half, cellWidth } = directionGrid;

/**
 * Draws a mesh as it is seen from a point into the grid of directions. Whether the ray through a cell's middle meets a
 * triangle is decided in space, by the planes through the point and the triangle's sides, the same for both
 * triangles at a side: a closed mesh has no gaps, and the answer is that of rays (Möller & Trumbore 1997) at the cost
 * of a picture.
 */
export function coverFrom({ positions, triangles }: TriangleMesh, from: Vec3): Cover {
  const cover: Cover = {
    from,
    triangles: new Int32Array(size * size).fill(-1),
    nearness: new Float32Array(size * size),
  };
  const { towards, inGrid } = verticesFrom(positions, from);
  const cosine = (a: number, b: number): number =>
    towards[a] * towards[b] + towards[a + 1] * towards[b + 1] + towards[a + 2] * towards[b + 2];
  const corners = new Float64Array(9);
  for (let t = 0; t < triangles.length / 3; t++) {
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const isSmall = cosine(a, b) >= smallCosine && cosine(b, c) >= smallCosine && cosine(c, a) >= smallCosine;
    if (isSmall) {
      if (towards[a + 1] < outside && towards[b + 1] < outside && towards[c + 1] < outside) continue;
      if (!seen.set(inGrid, triangles[3 * t], triangles[3 * t + 1], triangles[3 * t + 2])) continue;
    }
    for (let axis = 0; axis < 3; axis++) {
      corners[axis] = positions[a + axis] - from[axis];
      corners[3 + axis] = positions[b + axis] - from[axis];
      corners[6 + axis] = positions[c + axis] - from[axis];
    }
    if (isSmall) draw(cover, t, corners);
    else drawLarge(cover, t, corners, mostHalvings);
  }
  return cover;
}

/** Vertices as they are seen from a point: unit vectors to them, and their columns and rows (`putInGrid`). */
function verticesFrom(
  positions: Float32Array,
  from: Vec3,
): { readonly towards: Float64Array; readonly inGrid: Float64Array } {
  const count = positions.length / 3;
  const towards = new Float64Array(3 * count);
  const inGrid = new Float64Array(2 * count);
  for (let vertex = 0; vertex < count; vertex++) {
    const at = 3 * vertex;
    const x = positions[at] - from[0];
    const y = positions[at + 1] - from[1];
    const z = positions[at + 2] - from[2];
    const k = 1 / Math.sqrt(x * x + y * y + z * z);
    towards[at] = x * k;
    towards[at + 1] = y * k;
    towards[at + 2] = z * k;
    putInGrid(x, y, z, inGrid, vertex);
  }
  return { towards, inGrid };
}

/** The triangle that is drawn. */
const seen = new SeenTriangle();
const cornersInGrid = new Float64Array(6);

/** Halves a triangle (corners as seen from the point) across its side of the widest span until it is small. */
function drawLarge(cover: Cover, triangle: number, p: Float64Array, halvings: number): void {
  const lengths = [0, 3, 6].map((at) => Math.sqrt(p[at] ** 2 + p[at + 1] ** 2 + p[at + 2] ** 2));
  let widest = 0;
  let least = Infinity;
  for (let side = 0; side < 3; side++) {
    const a = 3 * side;
    const b = 3 * ((side + 1) % 3);
    const along = p[a] * p[b] + p[a + 1] * p[b + 1] + p[a + 2] * p[b + 2];
    const cosine = along / (lengths[side] * lengths[(side + 1) % 3]);
    if (!(cosine >= least)) {
      least = cosine;
      widest = side;
    }
  }
  if (least >= smallCosine) {
    const isOutside = [0, 1, 2].every((i) => p[3 * i + 1] < outside * lengths[i]);
    if (isOutside) return;
    for (let i = 0; i < 3; i++) putInGrid(p[3 * i], p[3 * i + 1], p[3 * i + 2], cornersInGrid, i);
    if (seen.set(cornersInGrid, 0, 1, 2)) draw(cover, triangle, p);
    return;
  }
  // Seen from within its own plane, or from a corner of its own, a triangle covers nothing.
  if (halvings === 0 || !(Math.abs(determinant(p)) > 0)) return;
  const next = (widest + 1) % 3;
  // Halves the angle: the bisector divides a side as the sides next to it.
  const share = lengths[widest] / (lengths[widest] + lengths[next]);
  const first = p.slice();
  const second = p.slice();
  for (let axis = 0; axis < 3; axis++) {
    const a = p[3 * widest + axis];
    const middle = a + share * (p[3 * next + axis] - a);
    first[3 * next + axis] = middle;
    second[3 * widest + axis] = middle;
  }
  drawLarge(cover, triangle, first, halvings - 1);
  drawLarge(cover, triangle, second, halvings - 1);
}

const determinant = (p: Float64Array): number =>
  p[0] * (p[4] * p[8] - p[5] * p[7]) +
  p[1] * (p[5] * p[6] - p[3] * p[8]) +
  p[2] * (p[3] * p[7] - p[4] * p[6]);

/** Draws a small triangle, corners as seen from the point, as far as it is seen. */
function draw({ triangles, nearness }: Cover, triangle: number, p: Float64Array): void {
  const scale = 1 / determinant(p);
  // Planes through the point and the sides: b × c, c × a, a × b.
  const ax = p[4] * p[8] - p[5] * p[7];
  const ay = p[5] * p[6] - p[3] * p[8];
  const az = p[3] * p[7] - p[4] * p[6];
  const bx = p[7] * p[2] - p[8] * p[1];
  const by = p[8] * p[0] - p[6] * p[2];
  const bz = p[6] * p[1] - p[7] * p[0];
  const cx = p[1] * p[5] - p[2] * p[4];
  const cy = p[2] * p[3] - p[0] * p[5];
  const cz = p[0] * p[4] - p[1] * p[3];
  for (let row = seen.fromRow; row <= seen.toRow; row++) {
    seen.findColumns(row);
    const z = row * cellWidth;
    for (let column = seen.fromColumn; column <= seen.toColumn; column++) {
      const x = column * cellWidth;
      const square = x * x + z * z;
      if (square > 4) continue;
      const k = Math.sqrt(1 - square / 4);
      const dx = x * k;
      const dy = 1 - square / 2;
      const dz = z * k;
      const a = (dx * ax + dy * ay + dz * az) * scale;
      if (!(a >= 0)) continue;
      const b = (dx * bx + dy * by + dz * bz) * scale;
      if (!(b >= 0)) continue;
      const c = (dx * cx + dy * cy + dz * cz) * scale;
      if (!(c >= 0)) continue;
      // A direction is a·A + b·B + c·C; where these shares sum to 1 it lies in the triangle's plane.
      const near = a + b + c;
      const cell = (row + half) * size + column + half;
      if (near > nearness[cell]) {
        nearness[cell] = near;
        triangles[cell] = triangle;
      }
    }
  }
}
