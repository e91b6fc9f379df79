/** Questions about a flat set of points: does it lie within a rectangle or a circle, however it is turned? */

/** A convex outline, counter-clockwise, no three points in a line. */
export interface Outline {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** The convex hull of points in the plane (Andrew 1979, monotone chain). A set on one line gives its two ends. */
export function convexOutline(x: Float64Array, y: Float64Array): Outline {
  const order = pointsOutsideOctagon(x, y).sort((a, b) => x[a] - x[b] || y[a] - y[b]);
  const chain: number[] = [];
  const grow = (index: number, floor: number): void => {
    while (chain.length >= floor + 2) {
      const p = chain[chain.length - 2];
      const q = chain[chain.length - 1];
      if ((x[q] - x[p]) * (y[index] - y[p]) - (y[q] - y[p]) * (x[index] - x[p]) > 0) break;
      chain.pop();
    }
    chain.push(index);
  };
  for (const index of order) grow(index, 0);
  const floor = chain.length - 1;
  for (let k = order.length - 2; k >= 0; k--) grow(order[k], floor);
  if (chain.length > 1) chain.pop();
  const outline = { x: new Float64Array(chain.length), y: new Float64Array(chain.length) };
  for (let k = 0; k < chain.length; k++) {
    outline.x[k] = x[chain[k]];
    outline.y[k] = y[chain[k]];
  }
  return outline;
}

/** Leaves out points inside the octagon of the eight farthest ones (Akl & Toussaint 1978): none is on the hull. */
function pointsOutsideOctagon(x: Float64Array, y: Float64Array): number[] {
  const corner = new Int32Array(8);
  const reach = new Float64Array(8).fill(-Infinity);
  const n = x.length;
  for (let i = 0; i < n; i++) {
    const p = x[i];
    const q = y[i];
    if (p > reach[0]) {
      reach[0] = p;
      corner[0] = i;
    }
    if (p + q > reach[1]) {
      reach[1] = p + q;
      corner[1] = i;
    }
    if (q > reach[2]) {
      reach[2] = q;
      corner[2] = i;
    }
    if (q - p > reach[3]) {
      reach[3] = q - p;
      corner[3] = i;
    }
    if (-p > reach[4]) {
      reach[4] = -p;
      corner[4] = i;
    }
    if (-p - q > reach[5]) {
      reach[5] = -p - q;
      corner[5] = i;
    }
    if (-q > reach[6]) {
      reach[6] = -q;
      corner[6] = i;
    }
    if (p - q > reach[7]) {
      reach[7] = p - q;
      corner[7] = i;
    }
  }
  const outside: number[] = [];
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < 8; k++) {
      const a = corner[k];
      const b = corner[(k + 1) & 7];
      if (a === b) continue;
      if ((x[b] - x[a]) * (y[i] - y[a]) - (y[b] - y[a]) * (x[i] - x[a]) <= 0) {
        outside.push(i);
        break;
      }
    }
  }
  // All points in one place: no side of the octagon is left.
  return outside.length > 0 ? outside : [0];
}

/** How an outline lies best in a rectangle. */
export interface RectangleRoom {
  /** The lesser of what is left in width and in depth, mm; negative when it is too large. */
  readonly room: number;
  /** Turn of the outline, counter-clockwise, radians. */
  readonly turn: number;
}

/**
 * The turn at which an outline has most room in a rectangle of `width` (x) by `depth` (y), mm. Exact: between two
 * turns at which a side of the outline lies flush with one of the rectangle, each extent is a single cosine
 * (rotating calipers, Shamos 1978; Toussaint 1983), so that the best lies at such a turn or where both rooms are equal.
 */
export function roomInRectangle(outline: Outline, width: number, depth: number): RectangleRoom {
  const { x, y } = outline;
  const n = x.length;
  const quarter = Math.PI / 2;
  const flush: number[] = [0];
  for (let i = 0; i < n; i++) {
    const j = i + 1 === n ? 0 : i + 1;
    const angle = Math.atan2(y[j] - y[i], x[j] - x[i]) % quarter;
    flush.push(angle < 0 ? angle + quarter : angle);
  }
  flush.sort((a, b) => a - b);
  if (n === 1) return { room: Math.min(width, depth), turn: 0 };
  const layings = width === depth ? 1 : 2;
  let best = -Infinity;
  let bestTurn = 0;
  const support = [0, 0, 0, 0];
  for (let k = 0; k < flush.length; k++) {
    const from = flush[k];
    const to = k + 1 < flush.length ? flush[k + 1] : quarter;
    if (to - from < 1e-12) continue;
    const middle = (from + to) / 2;
    const c = Math.cos(middle);
    const s = Math.sin(middle);
    support[0] = farthest(outline, c, s, support[0]);
    support[1] = farthest(outline, -s, c, support[1]);
    support[2] = farthest(outline, -c, -s, support[2]);
    support[3] = farthest(outline, s, -c, support[3]);
    // Extent along angle b is ux·cos b + uy·sin b; across it, vx·(−sin b) + vy·cos b.
    const ux = x[support[0]] - x[support[2]];
    const uy = y[support[0]] - y[support[2]];
    const vx = x[support[1]] - x[support[3]];
    const vy = y[support[1]] - y[support[3]];
    for (let laying = 0; laying < layings; laying++) {
      const along = laying === 0 ? width : depth;
      const across = laying === 0 ? depth : width;
      const roomAt = (angle: number): void => {
        const cb = Math.cos(angle);
        const sb = Math.sin(angle);
        const room = Math.min(along - (ux * cb + uy * sb), across - (vy * cb - vx * sb));
        if (room > best + 1e-9) {
          best = room;
          bestTurn = laying * quarter - angle;
        }
      };
      roomAt(from);
      roomAt(to);
      const p = ux - vy;
      const q = uy + vx;
      const ratio = (along - across) / Math.sqrt(p * p + q * q);
      if (Math.abs(ratio) <= 1) {
        const towards = Math.atan2(q, p);
        const aside = Math.acos(ratio);
        if (towards + aside > from && towards + aside < to) roomAt(towards + aside);
        if (towards - aside > from && towards - aside < to) roomAt(towards - aside);
      }
    }
  }
  return { room: best, turn: bestTurn };
}

/** The point of the outline farthest along (c, s), walked to from a point near it. */
function farthest({ x, y }: Outline, c: number, s: number, start: number): number {
  const n = x.length;
  let at = start;
  let reach = x[at] * c + y[at] * s;
  for (let step = 0; step < n; step++) {
    const next = at + 1 === n ? 0 : at + 1;
    const there = x[next] * c + y[next] * s;
    if (there <= reach) {
      // Backwards too: the start may lie past the farthest point.
      const before = at === 0 ? n - 1 : at - 1;
      const back = x[before] * c + y[before] * s;
      if (back <= reach) return at;
      at = before;
      reach = back;
    } else {
      at = next;
      reach = there;
    }
  }
  return at;
}

/** A circle in the plane, mm. */
interface Circle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Points in the plane, mm: those of an outline or all that lie within it. */
interface FlatPoints {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * The smallest circle around points, mm: the smallest around a few of them, to which the point farthest outside is added
 * until none is (the active-set method; Gärtner 1999, "Fast and robust smallest enclosing balls"). It begins with the
 * leftmost. A few passes over the points: of some hundreds, finding their outline first would take longer.
 */
export function enclosingCircle({ x, y }: FlatPoints): { diameter: number; centre: [number, number] } {
  let first = 0;
  for (let i = 1; i < x.length; i++) {
    if (x[i] < x[first] || (x[i] === x[first] && y[i] < y[first])) first = i;
  }
  let rim: readonly number[] = [first];
  let circle: Circle = { x: x[first], y: y[first], radius: 0 };
  for (;;) {
    let outermost = first;
    let away2 = -1;
    for (let i = 0; i < x.length; i++) {
      const dx = x[i] - circle.x;
      const dy = y[i] - circle.y;
      const here = dx * dx + dy * dy;
      if (here > away2) {
        away2 = here;
        outermost = i;
      }
    }
    const away = Math.sqrt(away2);
    const wider = away > circle.radius * (1 + 1e-12) ? smallestThrough({ x, y }, outermost, rim) : undefined;
    // The circle only ever grows; when rounding stops it, it is the smallest to the last digits.
    if (!wider || wider.circle.radius <= circle.radius) {
      return { diameter: 2 * Math.max(circle.radius, away), centre: [circle.x, circle.y] };
    }
    circle = wider.circle;
    rim = wider.rim;
  }
}

interface RimmedCircle {
  readonly circle: Circle;
  /** Two or three points on it, by index. */
  readonly rim: readonly number[];
}

/**
 * The smallest circle around a point and at most three others, the point on it: it lies outside of the smallest around
 * the others. A circle with two of them across that holds all is the smallest; else it goes through three.
 */
function smallestThrough(
  { x, y }: FlatPoints,
  point: number,
  others: readonly number[],
): RimmedCircle | undefined {
  const isAround = (circle: Circle): boolean => {
    const limit = circle.radius * (1 + 1e-12) + 1e-12;
    for (const i of others) {
      const dx = x[i] - circle.x;
      const dy = y[i] - circle.y;
      if (Math.sqrt(dx * dx + dy * dy) > limit) return false;
    }
    return true;
  };
  for (const other of others) {
    const across = { x: (x[point] + x[other]) / 2, y: (y[point] + y[other]) / 2 };
    const circle = { ...across, radius: Math.hypot(x[point] - across.x, y[point] - across.y) };
    if (isAround(circle)) return { circle, rim: [point, other] };
  }
  let best: RimmedCircle | undefined;
  for (let b = 1; b < others.length; b++) {
    for (let c = 0; c < b; c++) {
      const circle = circumcircle(x, y, point, others[b], others[c]);
      if (!circle || (best && circle.radius >= best.circle.radius) || !isAround(circle)) continue;
      best = { circle, rim: [point, others[b], others[c]] };
    }
  }
  return best;
}

/** The circle through three points; none when they lie on a line. */
function circumcircle(x: Float64Array, y: Float64Array, i: number, j: number, k: number): Circle | undefined {
  const bx = x[j] - x[i];
  const by = y[j] - y[i];
  const cx = x[k] - x[i];
  const cy = y[k] - y[i];
  const twice = 2 * (bx * cy - by * cx);
  if (twice === 0) return undefined;
  const b2 = bx * bx + by * by;
  const c2 = cx * cx + cy * cy;
  const px = (cy * b2 - by * c2) / twice;
  const py = (bx * c2 - cx * b2) / twice;
  return { x: x[i] + px, y: y[i] + py, radius: Math.hypot(px, py) };
}
