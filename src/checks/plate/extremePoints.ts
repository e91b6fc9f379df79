/**
 * A few of a set's points that stand for its extents in every direction: for each of `8 · 4^depth` directions spread
 * over the sphere, the farthest point along it. A set of few corners comes down to all of them; of a round
 * surface of radius r the extents are short by at most r·(1 − cos ρ), where ρ is at most 81° / 2^depth; the flattest
 * corner that can be missed is flatter than ρ.
 *
 * Method: the sphere of directions is cut into triangles, each halved in side again and again. Within a cap of
 * angular radius ρ about a direction c, let m be the farthest point along c. A point that lies g behind m along c and s
 * across gains on m at most s·sin ρ − g·cos ρ for any direction of the cap: points that can gain nothing need no
 * further look there.
 *
 * `points` holds x, y, z in turn, mm; so does the answer.
 */
export function extremePoints(points: ArrayLike<number>, depth = 4): Float64Array {
  const at = Float64Array.from(points);
  const count = at.length / 3;
  const kept = new Uint8Array(count);
  const all = new Int32Array(count);
  for (let i = 0; i < count; i++) all[i] = i;
  if (count > 0) {
    for (const x of [1, -1]) {
      for (const y of [1, -1]) {
        for (const z of [1, -1]) settle(at, all, [x, 0, 0], [0, y, 0], [0, 0, z], depth, kept);
      }
    }
  }
  const answer: number[] = [];
  for (let i = 0; i < count; i++) {
    if (kept[i] === 1) answer.push(at[3 * i], at[3 * i + 1], at[3 * i + 2]);
  }
  return Float64Array.from(answer);
}

type Direction = readonly [number, number, number];

function settle(
  points: Float64Array,
  candidates: Int32Array,
  a: Direction,
  b: Direction,
  c: Direction,
  depth: number,
  kept: Uint8Array,
): void {
  const centre = unit(a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]);
  const [cx, cy, cz] = centre;
  const cosine = Math.min(along(a, centre), along(b, centre), along(c, centre));
  const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
  let farthest = candidates[0];
  let reach = -Infinity;
  for (let k = 0; k < candidates.length; k++) {
    const at = 3 * candidates[k];
    const here = points[at] * cx + points[at + 1] * cy + points[at + 2] * cz;
    if (here > reach) {
      reach = here;
      farthest = candidates[k];
    }
  }
  kept[farthest] = 1;
  if (depth === 0) return;
  const mx = points[3 * farthest];
  const my = points[3 * farthest + 1];
  const mz = points[3 * farthest + 2];
  const left = new Int32Array(candidates.length);
  let leftCount = 0;
  let unkept = 0;
  for (let k = 0; k < candidates.length; k++) {
    const at = 3 * candidates[k];
    const dx = mx - points[at];
    const dy = my - points[at + 1];
    const dz = mz - points[at + 2];
    const behind = dx * cx + dy * cy + dz * cz;
    const across = Math.sqrt(Math.max(0, dx * dx + dy * dy + dz * dz - behind * behind));
    const gain = across * sine - behind * cosine;
    if (gain <= 0) continue;
    left[leftCount++] = candidates[k];
    if (kept[candidates[k]] === 0) unkept++;
  }
  // So few are cheaper to keep than to look into.
  if (unkept <= 2) {
    for (let k = 0; k < leftCount; k++) kept[left[k]] = 1;
    return;
  }
  // The farthest has no gain on itself, but may be the one to beat in the parts.
  left[leftCount++] = farthest;
  const rest = left.slice(0, leftCount);
  const ab = unit(a[0] + b[0], a[1] + b[1], a[2] + b[2]);
  const bc = unit(b[0] + c[0], b[1] + c[1], b[2] + c[2]);
  const ca = unit(c[0] + a[0], c[1] + a[1], c[2] + a[2]);
  settle(points, rest, ab, bc, ca, depth - 1, kept);
  settle(points, rest, a, ab, ca, depth - 1, kept);
  settle(points, rest, ab, b, bc, depth - 1, kept);
  settle(points, rest, ca, bc, c, depth - 1, kept);
}

const along = (u: Direction, v: Direction): number => u[0] * v[0] + u[1] * v[1] + u[2] * v[2];

function unit(x: number, y: number, z: number): Direction {
  const length = Math.sqrt(x * x + y * y + z * z);
  return [x / length, y / length, z / length];
}
