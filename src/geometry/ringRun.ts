import type { Rings } from "./rings";

/**
 * Pieces overlap with surfaces that differ by this share of the radius, so that they cross instead of lying in one
 * another's plane, where a union would leave slivers.
 */
export const pieceStep = 0.004;
/** How far a run reaches into the piece before it, in radii. */
const plugLength = 0.15;

/**
 * The rings from `first` to `last` (counted on over the seam of closed ones), open. With `plugged` the run reaches back
 * into the piece before it, a little narrower than that, so that the two unite.
 */
export function ringRun(rings: Rings, first: number, last: number, plugged: boolean): Rings {
  const indices = Array.from({ length: last - first + 1 }, (_, k) => (first + k) % rings.count);
  if (plugged) indices.unshift(indices[0]);
  const pick = (from: Float64Array) =>
    Float64Array.from(indices.flatMap((i) => [from[i * 3], from[i * 3 + 1], from[i * 3 + 2]]));
  const centres = pick(rings.centres);
  const tangents = pick(rings.tangents);
  const radii = Float64Array.from(indices, (i) => rings.radii[i]);
  if (plugged) {
    const back = plugLength * radii[0];
    for (let axis = 0; axis < 3; axis++) centres[axis] -= back * tangents[axis];
    radii[0] *= 0.95;
    radii[1] *= 1 - pieceStep;
  }
  return {
    count: indices.length,
    closed: false,
    shares: Float64Array.from(indices, (i) => rings.shares[i]),
    radii,
    centres,
    tangents,
    x: pick(rings.x),
    y: pick(rings.y),
  };
}
