import type { Line } from "./contour";

/** Lengthwise mean of a line's points over `rounds` of ¼, ½, ¼ (binomial smoothing); open ends stay. */
export function smoothed({ points, closed }: Line, rounds: number): Line {
  const n = points.length / 2;
  if (n < 4) return { points, closed };
  let from = points;
  for (let round = 0; round < rounds; round++) {
    const to = new Array<number>(points.length);
    for (let i = 0; i < n; i++) {
      const before = i === 0 ? (closed ? n - 1 : 0) : i - 1;
      const after = i === n - 1 ? (closed ? 0 : n - 1) : i + 1;
      const still = !closed && (i === 0 || i === n - 1);
      for (let axis = 0; axis < 2; axis++) {
        to[2 * i + axis] = still
          ? from[2 * i + axis]
          : from[2 * i + axis] / 2 + (from[2 * before + axis] + from[2 * after + axis]) / 4;
      }
    }
    from = to;
  }
  return { points: from, closed };
}

/** Leaves out points that lie within `tolerance` of the line without them (Douglas & Peucker 1973). */
export function simplified({ points, closed }: Line, tolerance: number): Line {
  const n = points.length / 2;
  if (n < 4) return { points, closed };
  const keep = new Uint8Array(n + 1);
  keep[0] = 1;
  const last = closed ? n : n - 1;
  keep[last] = 1;
  const x = (i: number): number => points[2 * (i % n)];
  const y = (i: number): number => points[2 * (i % n) + 1];
  const stack: [number, number][] = [];
  if (closed) {
    // A ring is cut at the point farthest from its first.
    let far = 1;
    for (let i = 1; i < n; i++) {
      if (Math.hypot(x(i) - x(0), y(i) - y(0)) > Math.hypot(x(far) - x(0), y(far) - y(0))) far = i;
    }
    keep[far] = 1;
    stack.push([0, far], [far, n]);
  } else {
    stack.push([0, last]);
  }
  for (let span = stack.pop(); span !== undefined; span = stack.pop()) {
    const [a, b] = span;
    const dx = x(b) - x(a);
    const dy = y(b) - y(a);
    const length = Math.hypot(dx, dy);
    let worst = tolerance;
    let at = -1;
    for (let i = a + 1; i < b; i++) {
      const off =
        length > 1e-9
          ? Math.abs(dx * (y(i) - y(a)) - dy * (x(i) - x(a))) / length
          : Math.hypot(x(i) - x(a), y(i) - y(a));
      if (off > worst) {
        worst = off;
        at = i;
      }
    }
    if (at >= 0) {
      keep[at] = 1;
      stack.push([a, at], [at, b]);
    }
  }
  const kept: number[] = [];
  for (let i = 0; i < n; i++) if (keep[i] === 1) kept.push(points[2 * i], points[2 * i + 1]);
  return { points: kept, closed };
}

export function lengthOf({ points, closed }: Line): number {
  const n = points.length / 2;
  let length = 0;
  for (let i = 0; i < (closed ? n : n - 1); i++) {
    const j = (i + 1) % n;
    length += Math.hypot(points[2 * j] - points[2 * i], points[2 * j + 1] - points[2 * i + 1]);
  }
  return length;
}

/** Area inside a closed line; its sign tells the way round. */
export function areaOf({ points }: Line): number {
  let twice = 0;
  for (let i = 0, j = points.length - 2; i < points.length; j = i, i += 2) {
    twice += points[j] * points[i + 1] - points[i] * points[j + 1];
  }
  return twice / 2;
}
