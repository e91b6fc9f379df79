import type { Loop } from "./slices";

/** A corner sharper than this many times the offset is cut off square. */
const mitreLimit = 2;

/**
 * The curve at a distance to the left of a loop (mm, more than zero), as it comes: it may cross itself. The points
 * around which the curves of all loops of a slice wind at least once are the slice inset by that distance, corners
 * mitred: at a corner that turns left, where an edge is too short to be moved so far, the curve goes back to the corner
 * itself, so that what lies too near to it is wound around less often, never more (the offset curve as a convolution).
 * Where no edge is too short it is the plain mitred curve.
 */
export function rawInset(loop: Loop, by: number): Loop {
  const n = loop.length / 2;
  if (edges.length < 3 * n) edges = new Float64Array(6 * n);
  if (points.length < 6 * n) points = new Float64Array(12 * n);
  measureEdges(loop, by);
  let count = 0;
  for (let i = 0; i < n; i++) {
    const k = i === 0 ? n - 1 : i - 1;
    const x = loop[2 * i];
    const y = loop[2 * i + 1];
    const ax = edges[3 * k];
    const ay = edges[3 * k + 1];
    const bx = edges[3 * i];
    const cy = edges[3 * i + 1];
    const cosine = ax * bx + ay * cy;
    const isLeft = ax * cy - ay * bx > 0;
    if (isLeft && (edges[3 * k + 2] < 0 || edges[3 * i + 2] < 0)) {
      points[count++] = x - ay * by;
      points[count++] = y + ax * by;
      points[count++] = x;
      points[count++] = y;
      points[count++] = x - cy * by;
      points[count++] = y + bx * by;
    } else if (isLeft || 1 + cosine >= 2 / (mitreLimit * mitreLimit)) {
      // Both normals, so long that each edge is moved by the distance.
      const scale = by / (1 + cosine);
      points[count++] = x - (ay + cy) * scale;
      points[count++] = y + (ax + bx) * scale;
    } else {
      // Cut off by the line across the middle of the corner at the distance: tan of a quarter of the turn.
      const along = by * Math.tan(Math.acos(Math.max(-1, cosine)) / 4);
      points[count++] = x - ay * by + ax * along;
      points[count++] = y + ax * by + ay * along;
      points[count++] = x - cy * by - bx * along;
      points[count++] = y + bx * by - cy * along;
    }
  }
  return points.slice(0, count);
}

// Kept from call to call. Of each edge its direction and what the corners at its ends leave of its length.
let edges = new Float64Array(3 * 1024);
let points = new Float64Array(6 * 1024);

function measureEdges(loop: Loop, by: number): void {
  const n = loop.length / 2;
  for (let i = 0; i < n; i++) {
    const j = i + 1 === n ? 0 : i + 1;
    const dx = loop[2 * j] - loop[2 * i];
    const dy = loop[2 * j + 1] - loop[2 * i + 1];
    const length = Math.sqrt(dx * dx + dy * dy);
    edges[3 * i] = length > 0 ? dx / length : 0;
    edges[3 * i + 1] = length > 0 ? dy / length : 0;
    edges[3 * i + 2] = length;
  }
  for (let i = 0; i < n; i++) {
    const k = i === 0 ? n - 1 : i - 1;
    const cosine = edges[3 * k] * edges[3 * i] + edges[3 * k + 1] * edges[3 * i + 1];
    const sine = edges[3 * k] * edges[3 * i + 1] - edges[3 * k + 1] * edges[3 * i];
    if (sine <= 0) continue;
    // The tangent of half the turn; where the edge turns right back nothing is left.
    const cut = cosine > -1 + 1e-12 ? (by * sine) / (1 + cosine) : Infinity;
    edges[3 * k + 2] -= cut;
    edges[3 * i + 2] -= cut;
  }
}
