import type { Rings } from "./rings";
import type { Section } from "./section";
import type { Cap } from "./tips";

const none = -9;
/** Depth is told down to this far outside, mm. */
const nearby = 0.5;

/**
 * The solid that sections sweep between rings, asked point by point: a point belongs to it if one of the sections
 * between two neighbouring rings passes it.
 */
export class SweptSections {
  readonly intervals: number;
  private readonly balls: Float64Array;
  private readonly apothem: number;

  constructor(
    private readonly rings: Rings,
    private readonly section: Section,
    private readonly start: Cap,
    private readonly end: Cap,
  ) {
    const { count, closed, centres: c, radii } = rings;
    this.intervals = closed ? count : count - 1;
    // A ball about each interval, by which most of them are ruled out.
    this.balls = new Float64Array(this.intervals * 4);
    for (let k = 0; k < this.intervals; k++) {
      const [a, b] = [k * 3, ((k + 1) % count) * 3];
      let square = 0;
      for (let axis = 0; axis < 3; axis++) {
        this.balls[k * 4 + axis] = (c[a + axis] + c[b + axis]) / 2;
        square += (c[a + axis] - c[b + axis]) ** 2;
      }
      const reach = section.reach * Math.max(radii[k], radii[(k + 1) % count]);
      this.balls[k * 4 + 3] = (Math.sqrt(square) / 2 + reach + nearby) ** 2;
    }
    this.apothem = section.round ? section.reach * Math.cos(Math.PI / section.points.length) : 0;
  }

  /**
   * How far a point lies within the outline of the section that passes it, mm; the greatest over all intervals but those
   * from `first` to `last` and `other`. The start cap counts as interval -1, the end cap as the one after the last.
   * Negative: outside all outlines; -Infinity: no section comes near.
   */
  depth(point: ArrayLike<number>, first = none, last = first, other = none): number {
    const [px, py, pz] = [point[0], point[1], point[2]];
    const { balls } = this;
    let most = Number.NEGATIVE_INFINITY;
    for (let k = 0, at = 0; k < this.intervals; k++, at += 4) {
      const [x, y, z] = [px - balls[at], py - balls[at + 1], pz - balls[at + 2]];
      if (x * x + y * y + z * z > balls[at + 3] || (k >= first && k <= last) || k === other) continue;
      const depth = this.depthIn(k, px, py, pz);
      if (depth > most) most = depth;
    }
    if (!this.rings.closed) {
      const isSkipped = (k: number) => k >= first && k <= last;
      if (!isSkipped(-1)) most = Math.max(most, this.depthInDome(this.start, 0, -1, px, py, pz));
      if (!isSkipped(this.intervals))
        most = Math.max(most, this.depthInDome(this.end, this.intervals, 1, px, py, pz));
    }
    return most;
  }

  private depthInDome(cap: Cap, ring: number, sign: number, px: number, py: number, pz: number): number {
    if (cap.kind === "flat") return Number.NEGATIVE_INFINITY;
    const { centres: c, tangents: t, x, y } = this.rings;
    const a = ring * 3;
    const [dx, dy, dz] = [px - c[a], py - c[a + 1], pz - c[a + 2]];
    const ahead = sign * (dx * t[a] + dy * t[a + 1] + dz * t[a + 2]);
    const square = cap.radius * cap.radius - ahead * ahead;
    if (ahead <= 0 || square <= 0) return Number.NEGATIVE_INFINITY;
    const radius = Math.sqrt(square);
    return (
      radius *
      this.within(
        (dx * x[a] + dy * x[a + 1] + dz * x[a + 2]) / radius,
        (dx * y[a] + dy * y[a + 1] + dz * y[a + 2]) / radius,
      )
    );
  }

  private depthIn(k: number, px: number, py: number, pz: number): number {
    const { count, centres: c, tangents: t, x, y, radii } = this.rings;
    const next = k + 1 === count ? 0 : k + 1;
    const a = k * 3;
    const b = next * 3;
    const before = (px - c[a]) * t[a] + (py - c[a + 1]) * t[a + 1] + (pz - c[a + 2]) * t[a + 2];
    const after = (px - c[b]) * t[b] + (py - c[b + 1]) * t[b + 1] + (pz - c[b + 2]) * t[b + 2];
    if (before * after > 0 || before === after) return Number.NEGATIVE_INFINITY;
    const w = before / (before - after);
    const v = 1 - w;
    const radius = radii[k] * v + radii[next] * w;
    // The section between, as the strips have it: its axes are shorter than 1 and not quite square.
    let [xx, xy, yy, px1, py1] = [0, 0, 0, 0, 0];
    for (let axis = 0; axis < 3; axis++) {
      const p = (axis === 0 ? px : axis === 1 ? py : pz) - c[a + axis] * v - c[b + axis] * w;
      const e = x[a + axis] * radii[k] * v + x[b + axis] * radii[next] * w;
      const f = y[a + axis] * radii[k] * v + y[b + axis] * radii[next] * w;
      xx += e * e;
      xy += e * f;
      yy += f * f;
      px1 += p * e;
      py1 += p * f;
    }
    const det = xx * yy - xy * xy;
    return radius * this.within((px1 * yy - py1 * xy) / det, (py1 * xx - px1 * xy) / det);
  }

  /** Distance of a place within the outline from its edges, in radii; negative outside. */
  private within(u: number, v: number): number {
    const { points, round, reach } = this.section;
    const n = points.length;
    if (round) {
      const out = Math.sqrt(u * u + v * v);
      if (out < 0.8 * this.apothem || out > 1.2 * reach) return this.apothem - out;
      const slice = (2 * Math.PI) / n;
      const angle = Math.atan2(v, u);
      return this.apothem - out * Math.cos(angle - (Math.floor(angle / slice) + 0.5) * slice);
    }
    let inside = false;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0, j = n - 1; i < n; j = i++) {
      const [ax, ay] = points[j];
      const [dx, dy] = [points[i][0] - ax, points[i][1] - ay];
      const along = ((u - ax) * dx + (v - ay) * dy) / (dx * dx + dy * dy);
      const s = along < 0 ? 0 : Math.min(along, 1);
      const square = (u - ax - s * dx) ** 2 + (v - ay - s * dy) ** 2;
      if (square < least) least = square;
      if (ay > v !== ay + dy > v && u < (dx * (v - ay)) / dy + ax) inside = !inside;
    }
    return inside ? Math.sqrt(least) : -Math.sqrt(least);
  }
}
