import { fewCandidates, keptPoints, lookByCaps } from "../../checks/plate/directionCaps";

/** Nearer than this to what cannot be farthest, a point is kept all the same, mm: the rounding of sums. */
const doubt = 1e-6;
/** How often the sphere of directions is divided. */
const usualDepth = 6;

/**
 * The points of a set that may be the farthest in some direction: the corners of its convex hull, and some that lie just
 * under it. Extents, outlines and shadows of these are those of the whole set, without loss. Method: `lookByCaps`.
 * @param points x, y, z in turn, mm; so is what is given back, in the same order.
 */
export function outerVertices(points: ArrayLike<number>, depth = usualDepth): Float64Array {
  const at = Float64Array.from(points);
  const kept = new Uint8Array(at.length / 3);
  lookByCaps(at, depth, ({ middle: [cx, cy, cz], cosine, sine }, candidates, farthest, depthLeft) => {
    const mx = at[3 * farthest];
    const my = at[3 * farthest + 1];
    const mz = at[3 * farthest + 2];
    const left = new Int32Array(candidates.length);
    let count = 0;
    let unkept = 0;
    for (let k = 0; k < candidates.length; k++) {
      const i = 3 * candidates[k];
      const dx = mx - at[i];
      const dy = my - at[i + 1];
      const dz = mz - at[i + 2];
      const behind = dx * cx + dy * cy + dz * cz;
      const square = dx * dx + dy * dy + dz * dz - behind * behind;
      // (s·sin ρ) against (g·cos ρ − doubt), without the root.
      const loss = behind * cosine - doubt;
      if (loss > 0 && square * sine * sine < loss * loss) continue;
      left[count++] = candidates[k];
      if (kept[candidates[k]] === 0) unkept++;
    }
    if (depthLeft > 0 && unkept > fewCandidates) return left.slice(0, count);
    for (let k = 0; k < count; k++) kept[left[k]] = 1;
    return undefined;
  });
  return keptPoints(at, kept);
}
