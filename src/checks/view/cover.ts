import type { TriangleMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
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
  const count = positions.length / 3;
  // Unit vectors to the vertices.
  const towards = new Float64Array(3 * count);
  for (let at = 0; at < towards.length; at += 3) {
    const x = positions[at] - from[0];
    const y = positions[at + 1] - from[1];
    const z = positions[at + 2] - from[2];
    const k = 1 / Math.sqrt(x * x + y * y + z * z);
    towards[at] = x * k;
    towards[at + 1] = y * k;
    towards[at + 2] = z * k;
  }
  const cosine = (a: number, b: number): number =>
    towards[a] * towards[b] + towards[a + 1] * towards[b + 1] + towards[a + 2] * towards[b + 2];
  const corners = new Float64Array(9);
  for (let t = 0; t < triangles.length / 3; t++) {
    const a = 3 * triangles[3 * t];
    const b = 3 * triangles[3 * t + 1];
    const c = 3 * triangles[3 * t + 2];
    const isSmall = cosine(a, b) >= smallCosine && cosine(b, c) >= smallCosine && cosine(c, a) >= smallCosine;
    if (isSmall && towards[a + 1] < outside && towards[b + 1] < outside && towards[c + 1] < outside) continue;
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
    if (!isOutside) draw(cover, triangle, p);
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

/** Draws a small triangle, corners as seen from the point. */
function draw({ triangles, nearness }: Cover, triangle: number, p: Float64Array): void {
  let [left, right, low, high] = [Infinity, -Infinity, Infinity, -Infinity];
  for (let corner = 0; corner < 9; corner += 3) {
    const x = p[corner];
    const y = p[corner + 1];
    const z = p[corner + 2];
    const length = Math.sqrt(x * x + y * y + z * z);
    const k = Math.sqrt(2 / (1 + y / length)) / (length * cellWidth);
    const column = x * k;
    const row = z * k;
    if (column < left) left = column;
    if (column > right) right = column;
    if (row < low) low = row;
    if (row > high) high = row;
  }
  // Sides bend in the grid, by less than this on the way to its edge.
  const bend = 0.05 + ((right - left) ** 2 + (high - low) ** 2) / 800;
  const fromColumn = Math.max(-half, Math.ceil(left - bend));
  const toColumn = Math.min(half, Math.floor(right + bend));
  const fromRow = Math.max(-half, Math.ceil(low - bend));
  const toRow = Math.min(half, Math.floor(high + bend));
  if (!(fromColumn <= toColumn && fromRow <= toRow)) return;
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
  for (let row = fromRow; row <= toRow; row++) {
    for (let column = fromColumn; column <= toColumn; column++) {
      const x = column * cellWidth;
      const z = row * cellWidth;
      const square = x * x + z * z;
      if (square > 4) continue;
      const k = Math.sqrt(1 - square / 4);
      const [dx, dy, dz] = [x * k, 1 - square / 2, z * k];
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
