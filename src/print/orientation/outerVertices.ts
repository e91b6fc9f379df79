/** Nearer than this to what cannot be farthest, a point is kept all the same, mm: the rounding of sums. */
const doubt = 1e-6;
/** How often the sphere of directions is divided. */
const usualDepth = 6;

type Direction = readonly [number, number, number];

/**
 * The points of a set that may be the farthest in some direction: the corners of its convex hull, and some that lie just
 * under it. Extents, outlines and shadows of these are those of the whole set, without loss.
 *
 * The sphere of directions is cut into triangles, each halved in side again and again. Within a cap of angular radius ρ
 * about a direction c, let m be the farthest point along c. A point that lies g behind m along c and s across gains on m
 * at most s·sin ρ − g·cos ρ for any direction of the cap: a point that gains nothing is none of its farthest.
 * @param points x, y, z in turn, mm; so is what is given back, in the same order.
 */
export function outerVertices(points: ArrayLike<number>, depth = usualDepth): Float64Array {
  const at = Float64Array.from(points);
  const count = at.length / 3;
  const kept = new Uint8Array(count);
  const all = new Int32Array(count);
  for (let i = 0; i < count; i++) all[i] = i;
  if (count > 0) {
    for (const x of [1, -1]) {
      for (const y of [1, -1]) {
        for (const z of [1, -1]) keepFarthest(at, all, [x, 0, 0], [0, y, 0], [0, 0, z], depth, kept);
      }
    }
  }
  let size = 0;
  for (let i = 0; i < count; i++) {
    if (kept[i] === 0) continue;
    at.copyWithin(size, 3 * i, 3 * i + 3);
    size += 3;
  }
  return at.slice(0, size);
}

/** Keeps of the candidates those that may be farthest in a direction between three. */
function keepFarthest(
  points: Float64Array,
  candidates: Int32Array,
  a: Direction,
  b: Direction,
  c: Direction,
  depth: number,
  kept: Uint8Array,
): void {
  const [cx, cy, cz] = unit(a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]);
  const cosine = Math.min(
    a[0] * cx + a[1] * cy + a[2] * cz,
    b[0] * cx + b[1] * cy + b[2] * cz,
    c[0] * cx + c[1] * cy + c[2] * cz,
  );
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
  const mx = points[3 * farthest];
  const my = points[3 * farthest + 1];
  const mz = points[3 * farthest + 2];
  const left = new Int32Array(candidates.length);
  let count = 0;
  let unkept = 0;
  for (let k = 0; k < candidates.length; k++) {
    const at = 3 * candidates[k];
    const dx = mx - points[at];
    const dy = my - points[at + 1];
    const dz = mz - points[at + 2];
    const behind = dx * cx + dy * cy + dz * cz;
    const square = dx * dx + dy * dy + dz * dz - behind * behind;
    // (s·sin ρ) against (g·cos ρ − doubt), without the root.
    const loss = behind * cosine - doubt;
    if (loss > 0 && square * sine * sine < loss * loss) continue;
    left[count++] = candidates[k];
    if (kept[candidates[k]] === 0) unkept++;
  }
  // So few are cheaper to keep than to look into.
  if (depth === 0 || unkept <= 2) {
    for (let k = 0; k < count; k++) kept[left[k]] = 1;
    return;
  }
  const rest = left.slice(0, count);
  const ab = unit(a[0] + b[0], a[1] + b[1], a[2] + b[2]);
  const bc = unit(b[0] + c[0], b[1] + c[1], b[2] + c[2]);
  const ca = unit(c[0] + a[0], c[1] + a[1], c[2] + a[2]);
  keepFarthest(points, rest, ab, bc, ca, depth - 1, kept);
  keepFarthest(points, rest, a, ab, ca, depth - 1, kept);
  keepFarthest(points, rest, ab, b, bc, depth - 1, kept);
  keepFarthest(points, rest, ca, bc, c, depth - 1, kept);
}

function unit(x: number, y: number, z: number): Direction {
  const length = Math.sqrt(x * x + y * y + z * z);
  return [x / length, y / length, z / length];
}
