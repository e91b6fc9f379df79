type Direction = readonly [number, number, number];

/** All directions within an angle ρ of the middle c, a unit vector. */
export interface DirectionCap {
  readonly middle: Direction;
  /** Of ρ. */
  readonly cosine: number;
  readonly sine: number;
}

/**
 * Looks at points by caps of directions that together cover the sphere: its eight triangles, each halved in side again and
 * again. Within a cap, let m be the farthest point along c. A point that lies g behind m along c and s across gains on m
 * at most s·sin ρ − g·cos ρ for any direction of the cap: a point that can gain nothing needs no further look there.
 * @param points x, y, z in turn
 * @param look told a cap, the candidates for it, the farthest of them along its middle and how often it may be divided
 * yet; it gives the candidates for its parts, undefined where it is settled
 */
export function lookByCaps(
  points: Float64Array,
  depth: number,
  look: (
    cap: DirectionCap,
    candidates: Int32Array,
    farthest: number,
    depth: number,
  ) => Int32Array | undefined,
): void {
  const count = points.length / 3;
  if (count === 0) return;
  const all = new Int32Array(count);
  for (let i = 0; i < count; i++) all[i] = i;
  const divide = (candidates: Int32Array, a: Direction, b: Direction, c: Direction, left: number): void => {
    const middle = unit(a[0] + b[0] + c[0], a[1] + b[1] + c[1], a[2] + b[2] + c[2]);
    const cosine = Math.min(along(a, middle), along(b, middle), along(c, middle));
    const sine = Math.sqrt(Math.max(0, 1 - cosine * cosine));
    const rest = look({ middle, cosine, sine }, candidates, farthestAlong(points, candidates, middle), left);
    if (!rest) return;
    const ab = unit(a[0] + b[0], a[1] + b[1], a[2] + b[2]);
    const bc = unit(b[0] + c[0], b[1] + c[1], b[2] + c[2]);
    const ca = unit(c[0] + a[0], c[1] + a[1], c[2] + a[2]);
    divide(rest, ab, bc, ca, left - 1);
    divide(rest, a, ab, ca, left - 1);
    divide(rest, ab, b, bc, left - 1);
    divide(rest, ca, bc, c, left - 1);
  };
  for (const x of [1, -1]) {
    for (const y of [1, -1]) {
      for (const z of [1, -1]) divide(all, [x, 0, 0], [0, y, 0], [0, 0, z], depth);
    }
  }
}

/** The points that are kept, x, y, z in turn. */
export function keptPoints(points: Float64Array, kept: Uint8Array): Float64Array {
  const answer: number[] = [];
  for (let i = 0; i < kept.length; i++) {
    if (kept[i] === 1) answer.push(points[3 * i], points[3 * i + 1], points[3 * i + 2]);
  }
  return Float64Array.from(answer);
}

/** So few candidates that are not kept yet are cheaper to keep than to look into. */
export const fewCandidates = 2;

function farthestAlong(points: Float64Array, candidates: Int32Array, [cx, cy, cz]: Direction): number {
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
  return farthest;
}

const along = (u: Direction, v: Direction): number => u[0] * v[0] + u[1] * v[1] + u[2] * v[2];

function unit(x: number, y: number, z: number): Direction {
  const length = Math.sqrt(x * x + y * y + z * z);
  return [x / length, y / length, z / length];
}
