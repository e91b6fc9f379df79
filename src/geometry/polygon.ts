import type { Vec2 } from "./vector";

/** Plane polygons as lists of points, closed by an edge from the last point to the first. */

/** Area, positive if counter-clockwise. */
export function signedArea(points: readonly Vec2[]): number {
  let sum = 0;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    sum += points[j][0] * points[i][1] - points[i][0] * points[j][1];
  }
  return sum / 2;
}

/** Centre of area. */
export function centroid(points: readonly Vec2[]): Vec2 {
  let [x, y, sum] = [0, 0, 0];
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const k = points[j][0] * points[i][1] - points[i][0] * points[j][1];
    x += k * (points[j][0] + points[i][0]);
    y += k * (points[j][1] + points[i][1]);
    sum += 3 * k;
  }
  return [x / sum, y / sum];
}

export function perimeter(points: readonly Vec2[]): number {
  let sum = 0;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    sum += Math.hypot(points[i][0] - points[j][0], points[i][1] - points[j][1]);
  }
  return sum;
}

/** Twice the area of the triangle a, b, c: positive if it turns left. */
export const turn = (a: Vec2, b: Vec2, c: Vec2): number =>
  (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

/** The first two edges (by the index of their first point) that cross or touch; undefined for a simple polygon. */
export function crossingEdges(points: readonly Vec2[]): readonly [number, number] | undefined {
  const n = points.length;
  for (let i = 0; i < n; i++) {
    const [a, b] = [points[i], points[(i + 1) % n]];
    const [left, right] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
    const [low, high] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
    for (let j = i + 1; j < n; j++) {
      const [c, d] = [points[j], points[(j + 1) % n]];
      if (Math.max(c[0], d[0]) < left || Math.min(c[0], d[0]) > right) continue;
      if (Math.max(c[1], d[1]) < low || Math.min(c[1], d[1]) > high) continue;
      if (j === i + 1 || (i === 0 && j === n - 1)) {
        // Neighbours share a point; they overlap only if the outline turns back on itself.
        const [p, q, r] = j === i + 1 ? [a, b, d] : [c, a, b];
        const back = (q[0] - p[0]) * (r[0] - q[0]) + (q[1] - p[1]) * (r[1] - q[1]) < 0;
        if (back && turn(p, q, r) === 0) return [i, j];
        continue;
      }
      const apart = turn(a, b, c) * turn(a, b, d) > 0 || turn(c, d, a) * turn(c, d, b) > 0;
      if (!apart) return [i, j];
    }
  }
  return undefined;
}

/** Whether the polygon (counter-clockwise) turns left at every corner. */
export function isConvex(points: readonly Vec2[]): boolean {
  const n = points.length;
  return points.every((p, i) => turn(points[(i + n - 1) % n], p, points[(i + 1) % n]) >= -1e-12);
}

/**
 * Triangles of a simple counter-clockwise polygon, as indices of its points, by ear clipping (Meisters 1975, "Polygons
 * have ears", Am. Math. Monthly 82); of the ears at hand the best-shaped is cut first. O(n³) at worst: for outlines.
 */
export function triangulate(points: readonly Vec2[]): number[] {
  const left = points.map((_, i) => i);
  const triangles: number[] = [];
  while (left.length > 3) {
    let best = -1;
    let bestShape = Number.NEGATIVE_INFINITY;
    for (let k = 0; k < left.length; k++) {
      const [a, b, c] = cornerOf(left, k);
      const shape = earShape(points[a], points[b], points[c]);
      if (shape <= bestShape) continue;
      if (shape > 0 && !isEar(points, left, a, b, c)) continue;
      best = k;
      bestShape = shape;
    }
    triangles.push(...cornerOf(left, best));
    left.splice(best, 1);
  }
  triangles.push(...left);
  return triangles;
}

function cornerOf(left: readonly number[], k: number): [number, number, number] {
  const n = left.length;
  return [left[(k + n - 1) % n], left[k], left[(k + 1) % n]];
}

/** Height over the longest side, negative for a reflex corner. */
function earShape(a: Vec2, b: Vec2, c: Vec2): number {
  const longest = Math.max(
    (a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2,
    (b[0] - c[0]) ** 2 + (b[1] - c[1]) ** 2,
    (c[0] - a[0]) ** 2 + (c[1] - a[1]) ** 2,
  );
  return turn(a, b, c) / longest;
}

function isEar(points: readonly Vec2[], left: readonly number[], a: number, b: number, c: number): boolean {
  for (const i of left) {
    if (i === a || i === b || i === c) continue;
    const p = points[i];
    if (
      turn(points[a], points[b], p) >= 0 &&
      turn(points[b], points[c], p) >= 0 &&
      turn(points[c], points[a], p) >= 0
    ) {
      return false;
    }
  }
  return true;
}

/**
 * Convex polygons that make up a simple counter-clockwise one, as indices of its points: triangles joined over every
 * diagonal that is not needed (Hertel, Mehlhorn 1983): at most four times the least number.
 */
export function convexParts(points: readonly Vec2[]): number[][] {
  if (isConvex(points)) return [points.map((_, i) => i)];
  const flat = triangulate(points);
  const parts: number[][] = [];
  for (let i = 0; i < flat.length; i += 3) parts.push(flat.slice(i, i + 3));
  for (let joined = true; joined; ) {
    joined = false;
    for (let i = 0; i < parts.length && !joined; i++) {
      for (let j = i + 1; j < parts.length && !joined; j++) {
        const both = join(parts[i], parts[j]);
        if (both && isConvex(both.map((k) => points[k]))) {
          parts[i] = both;
          parts.splice(j, 1);
          joined = true;
        }
      }
    }
  }
  return parts;
}

/** Two polygons joined over a shared edge, if they have one. */
function join(a: readonly number[], b: readonly number[]): number[] | undefined {
  for (let i = 0; i < a.length; i++) {
    const j = b.indexOf(a[(i + 1) % a.length]);
    if (j < 0 || b[(j + 1) % b.length] !== a[i]) continue;
    const restOfA = Array.from({ length: a.length }, (_, k) => a[(i + 1 + k) % a.length]);
    const restOfB = Array.from({ length: b.length - 2 }, (_, k) => b[(j + 2 + k) % b.length]);
    return [...restOfA, ...restOfB];
  }
  return undefined;
}
