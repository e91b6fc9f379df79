import { fewCandidates, keptPoints, lookByCaps } from "./directionCaps";

/**
 * A few of a set's points that stand for its extents in every direction: for each of `8 · 4^depth` directions spread
 * over the sphere, the farthest point along it. A set of few corners comes down to all of them; of a round
 * surface of radius r the extents are short by at most r·(1 − cos ρ), where ρ is at most 81° / 2^depth; the flattest
 * corner that can be missed is flatter than ρ. Method: `lookByCaps`.
 *
 * `points` holds x, y, z in turn, mm; so does the answer.
 */
export function extremePoints(points: ArrayLike<number>, depth = 4): Float64Array {
  const at = Float64Array.from(points);
  const kept = new Uint8Array(at.length / 3);
  lookByCaps(at, depth, ({ middle: [cx, cy, cz], cosine, sine }, candidates, farthest, depthLeft) => {
    kept[farthest] = 1;
    if (depthLeft === 0) return undefined;
    const mx = at[3 * farthest];
    const my = at[3 * farthest + 1];
    const mz = at[3 * farthest + 2];
    const left = new Int32Array(candidates.length);
    let leftCount = 0;
    let unkept = 0;
    for (let k = 0; k < candidates.length; k++) {
      const i = 3 * candidates[k];
      const dx = mx - at[i];
      const dy = my - at[i + 1];
      const dz = mz - at[i + 2];
      const behind = dx * cx + dy * cy + dz * cz;
      const across = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - behind * behind));
      const gain = across * sine - behind * cosine;
      if (gain <= 0) continue;
      left[leftCount++] = candidates[k];
      if (kept[candidates[k]] === 0) unkept++;
    }
    if (unkept <= fewCandidates) {
      for (let k = 0; k < leftCount; k++) kept[left[k]] = 1;
      return undefined;
    }
    // The farthest has no gain on itself, but may be the one to beat in the parts.
    left[leftCount++] = farthest;
    return left.slice(0, leftCount);
  });
  return keptPoints(at, kept);
}
