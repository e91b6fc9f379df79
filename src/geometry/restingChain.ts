import { type CapsuleGrid, segmentShare, segmentStride, standsFree } from "./capsuleGrid";
import type { Curve } from "./curve";
import { drape, smoothAbove } from "./drape";
import { freeHeight, type RestingSurface, type RestingTube } from "./restingTube";
import type { PathData } from "./tubeShape";
import type { Vec3 } from "./vector";

const rounds = 40;
/** Fall per round at first, as a share of the radius. */
const fall = 0.15;
/** A chain whose points all move less than this in a round lies, mm. */
const still = 0.01;
/** A point this far from where the surface was last looked at has it looked at again, mm. */
const surfaceReach = 0.7;
/** Least radius of an upward bend, in radii of the tube. */
const bendRadius = 4;
/** A tube is moved aside by about this many of its radii before it climbs. */
const asideRadii = 1.5;
/** A corner of the lifted line is rounded over this many points to each side. */
const cornerPoints = 3;
const finishingRounds = 10;
/** Overlap that counts as none, mm. */
const enough = 0.01;
/** Far above the rounding of a distance, mm. */
const roundingRoom = 1e-6;

/** One tube while it is laid down. */
export class RestingChain {
  private readonly count: number;
  private readonly closed: boolean;
  private readonly step: number;
  private readonly positions: Float64Array;
  private readonly origins: Float64Array;
  private readonly radii: Float64Array;
  /** Unit directions of the line, as of the last `aim`. */
  private readonly along: Float64Array;
  /** Height over the surface at which each point comes to lie, mm. */
  private readonly floor: Float64Array;
  private readonly pinned: Uint8Array;
  private readonly seenAt: Float64Array;
  private readonly seenDistance: Float64Array;
  private readonly normals: Float64Array;
  /** What each point may touch: segments of the grid, and (as -1 - index) of the chain itself. */
  private readonly near: number[][];
  /** How far each of them was at least off the point's own surface when it was looked for, mm. */
  private readonly nearDistances: number[][];
  private readonly ownNear: number[][];
  private readonly searchedAt: Float64Array;

  constructor(
    private readonly tube: RestingTube,
    curve: Curve,
    radiusAt: (share: number) => number,
    pieces: number,
    private readonly grid: CapsuleGrid,
    private readonly surface: RestingSurface,
    /** Height over the surface above which nothing lies yet, mm; absent: the path is laid already. */
    private readonly ceiling?: number,
  ) {
    this.closed = curve.closed;
    this.count = this.closed ? pieces : pieces + 1;
    this.step = curve.length / pieces;
    const shares = Float64Array.from({ length: this.count }, (_, i) => i / pieces);
    this.positions = curve.sample(shares).points;
    this.radii = shares.map(radiusAt);
    this.along = new Float64Array(this.count * 3);
    this.pinned = new Uint8Array(this.count);
    this.seenAt = new Float64Array(this.count * 3).fill(Number.NaN);
    this.seenDistance = new Float64Array(this.count);
    this.normals = new Float64Array(this.count * 3);
    this.near = Array.from({ length: this.count }, () => []);
    this.nearDistances = Array.from({ length: this.count }, () => []);
    this.searchedAt = new Float64Array(this.count * 3).fill(Number.NaN);
    this.floor = this.heightsToKeep();
    if (ceiling !== undefined) this.land();
    this.origins = this.positions.slice();
    if (ceiling !== undefined) this.dropOver(ceiling);
    this.ownNear = this.meetings();
  }

  /** Moves the chain until it lies. */
  settle(): void {
    const { count, positions, radii } = this;
    const before = positions.slice();
    for (let round = 0; round < rounds; round++) {
      before.set(positions);
      this.smooth();
      // The fall fades, so that what hangs between two contacts comes to rest.
      const share = fall * Math.min(1, (2 * (rounds - round)) / rounds);
      for (let k = 0; k < count; k++) {
        if (!this.pinned[k]) this.raise(k, -Math.min(share * radii[k], this.height(k) - this.floor[k]));
      }
      this.pushAll(0);
      this.lift(false);
      let moved = 0;
      for (let i = 0; i < before.length; i++) moved = Math.max(moved, Math.abs(positions[i] - before[i]));
      if (moved < still) break;
    }
  }

  /** Clears what is left, where a laid chain still touches. */
  finish(): void {
    for (let round = 0; round < finishingRounds; round++) {
      this.smooth();
      // Where pushing aside leads from one tube into another, the way out is up.
      const deepest = this.pushAll(0.3 * round);
      this.lift(true);
      if (round > 0 && deepest < enough) break;
    }
  }

  /** Notes the chain's directions before it is pushed, so that the outcome does not hang on the order of the points. */
  private aim(): void {
    const { positions: p, along: t } = this;
    for (let k = 0; k < this.count; k++) {
      const [b, c] = [this.neighbour(k, -1) * 3, this.neighbour(k, 1) * 3];
      const [x, y, z] = [p[c] - p[b], p[c + 1] - p[b + 1], p[c + 2] - p[b + 2]];
      const size = Math.sqrt(x * x + y * y + z * z) || 1;
      t[k * 3] = x / size;
      t[k * 3 + 1] = y / size;
      t[k * 3 + 2] = z / size;
    }
  }

  private pushAll(lift: number): number {
    let deepest = 0;
    this.aim();
    for (let k = 0; k < this.count; k++) deepest = Math.max(deepest, this.push(k, lift));
    this.leaveSurface();
    return deepest;
  }

  /** The chain as a spline through its points. */
  path(): PathData {
    const points = Array.from({ length: this.count }, (_, k): Vec3 => this.point(k));
    return { kind: "through", points, closed: this.closed };
  }

  private point(k: number): Vec3 {
    return [this.positions[k * 3], this.positions[k * 3 + 1], this.positions[k * 3 + 2]];
  }

  /** Where each point lies: on the surface, save near a pinned end, whose height fades out over twice itself. */
  private heightsToKeep(): Float64Array {
    const { count, step, radii } = this;
    const heights = Float64Array.from({ length: count }, (_, k) => this.height(k));
    const floor = radii.map((radius) => radius * (1 - this.tube.sink));
    if (this.closed) return floor;
    const result = floor.slice();
    for (const end of [0, count - 1]) {
      const isPinned = this.tube.pinned === "both" || this.tube.pinned === (end === 0 ? "start" : "end");
      if (!isPinned) continue;
      this.pinned[end] = 1;
      if (this.ceiling === undefined) continue;
      const reach = Math.max(4 * radii[end], 2 * Math.abs(heights[end] - floor[end]));
      for (let k = 0; k < count; k++) {
        const away = (Math.abs(k - end) * step) / reach;
        if (away >= 1) continue;
        const keep = (1 - away) * (1 - away) * (1 + 2 * away);
        result[k] = Math.max(result[k], floor[k] + keep * (heights[k] - floor[k]));
      }
    }
    return result;
  }

  /** Puts every point at its height over the surface. */
  private land(): void {
    for (let round = 0; round < 3; round++) {
      for (let k = 0; k < this.count; k++) {
        if (!this.pinned[k]) this.raise(k, this.floor[k] - this.height(k));
      }
    }
  }

  /**
   * Lifts the chain over what lies there already, so that it comes to lie on it and never under one of its bridges.
   * What stands free, as a fixed horn or a raised end may, may be passed under.
   */
  private dropOver(ceiling: number): void {
    const { count, positions: p, normals: n, radii } = this;
    const near: number[] = [];
    for (let k = 0; k < count; k++) {
      if (this.pinned[k]) continue;
      const stepDown = radii[k];
      const own = this.height(k);
      let height = ceiling + radii[k];
      const a = k * 3;
      for (; height > own; height -= stepDown) {
        const by = height - own;
        near.length = 0;
        this.grid.near(
          p[a] + by * n[a],
          p[a + 1] + by * n[a + 1],
          p[a + 2] + by * n[a + 2],
          radii[k] * 0.8,
          near,
        );
        if (near.some((index) => this.grid.segments[index * segmentStride + standsFree] === 0)) break;
      }
      if (height > own) this.raise(k, height - own);
    }
    this.lift(false);
  }

  /** Greatest height of its upper side over the surface, mm. */
  top(): number {
    return this.radii.reduce((most, radius, k) => Math.max(most, this.height(k) + radius), 0);
  }

  /** Whether the chain is held up there by a pinned end. */
  standsFreeAt(share: number): boolean {
    const k = Math.min(this.count - 1, Math.round(share * (this.closed ? this.count : this.count - 1)));
    return this.floor[k] > freeHeight * this.radii[k];
  }

  /** Height over the surface; between looks at it the surface counts as flat. */
  private height(k: number): number {
    const { positions: p, seenAt, normals: n } = this;
    const a = k * 3;
    const [x, y, z] = [p[a] - seenAt[a], p[a + 1] - seenAt[a + 1], p[a + 2] - seenAt[a + 2]];
    if (x * x + y * y + z * z <= surfaceReach * surfaceReach) {
      return this.seenDistance[k] + x * n[a] + y * n[a + 1] + z * n[a + 2];
    }
    const seen = this.surface([p[a], p[a + 1], p[a + 2]]);
    for (let axis = 0; axis < 3; axis++) {
      seenAt[a + axis] = p[a + axis];
      n[a + axis] = seen.normal[axis];
    }
    this.seenDistance[k] = seen.distance;
    return seen.distance;
  }

  private raise(k: number, by: number): void {
    const a = k * 3;
    for (let axis = 0; axis < 3; axis++) this.positions[a + axis] += by * this.normals[a + axis];
  }

  private leaveSurface(): void {
    for (let k = 0; k < this.count; k++) {
      const sunk = this.floor[k] - this.height(k);
      if (sunk > 0 && !this.pinned[k]) this.raise(k, sunk);
    }
  }

  private neighbour(k: number, by: number): number {
    const at = k + by;
    if (this.closed) return (at + this.count) % this.count;
    return at < 0 ? 0 : at >= this.count ? this.count - 1 : at;
  }

  /** Spreads what a point was moved aside over its neighbours: the line keeps its character. All at once, so that it has no direction. */
  private smooth(): void {
    const { count, positions: p, origins: o, normals: n } = this;
    const moves = new Float64Array(count * 3);
    for (let k = 0; k < count; k++) {
      if (this.pinned[k]) continue;
      const a = k * 3;
      const before = this.neighbour(k, -1) * 3;
      const after = this.neighbour(k, 1) * 3;
      let along = 0;
      for (let axis = 0; axis < 3; axis++) {
        const own = p[a + axis] - o[a + axis];
        const mean = (p[before + axis] - o[before + axis] + p[after + axis] - o[after + axis]) / 2;
        moves[a + axis] = (mean - own) / 2;
        along += moves[a + axis] * n[a + axis];
      }
      for (let axis = 0; axis < 3; axis++) moves[a + axis] -= along * n[a + axis];
    }
    for (let i = 0; i < moves.length; i++) p[i] += moves[i];
  }

  /** Lifts the line over its hollows, so that it bends no tighter than it may; at last also smooths its corners. */
  private lift(smooth: boolean): void {
    const heights = Float64Array.from({ length: this.count }, (_, k) => this.height(k) - this.floor[k]);
    const radius = bendRadius * this.radii.reduce((a, b) => Math.max(a, b));
    const draped = drape(heights, this.step, radius, this.closed);
    const lifted = smooth ? smoothAbove(draped, cornerPoints, this.closed) : draped;
    for (let k = 0; k < this.count; k++) if (!this.pinned[k]) this.raise(k, lifted[k] - heights[k]);
  }

  /** Where the line comes back to itself: for each point the earlier segments of the chain that it may meet. */
  private meetings(): number[][] {
    const { count, origins: o, radii, step } = this;
    return Array.from({ length: count }, (_, k) => {
      const found: number[] = [];
      for (let j = 0; j < k - 1; j++) {
        const d = Math.hypot(o[k * 3] - o[j * 3], o[k * 3 + 1] - o[j * 3 + 1], o[k * 3 + 2] - o[j * 3 + 2]);
        const reach = 2 * (radii[k] + radii[j]);
        if (d > reach) {
          j += Math.max(0, Math.floor((d - reach) / (2 * step)) - 1);
          continue;
        }
        const along = (k - j) * step;
        const arc = this.closed ? Math.min(along, count * step - along) : along;
        if (arc > 1.5 * (radii[k] + radii[j]) && d < 0.6 * arc) found.push(-1 - j);
      }
      return found;
    });
  }

  /**
   * Looks for what a point may touch, again once it has moved through the margin of the last search. Gives how far it has
   * moved since that, mm.
   */
  private lookAround(k: number): number {
    const { positions: p, searchedAt: s, radii } = this;
    const a = k * 3;
    const margin = 0.8 * radii[k] + 1;
    const moved = Math.sqrt((p[a] - s[a]) ** 2 + (p[a + 1] - s[a + 1]) ** 2 + (p[a + 2] - s[a + 2]) ** 2);
    if (moved <= margin) return moved;
    const near = this.near[k];
    const distances = this.nearDistances[k];
    near.length = 0;
    distances.length = 0;
    this.grid.near(p[a], p[a + 1], p[a + 2], radii[k] + margin, near, distances);
    for (let i = 0; i < near.length; i++) distances[i] -= radii[k];
    for (const own of this.ownNear[k]) {
      near.push(own);
      // The chain's own segments move too.
      distances.push(Number.NEGATIVE_INFINITY);
    }
    for (let axis = 0; axis < 3; axis++) s[a + axis] = p[a + axis];
    return 0;
  }

  /**
   * How much a point goes up rather than aside where it meets a line in direction s. Parallel tubes lie beside each
   * other; the more they cross, and the farther the tube has gone aside already, the more it climbs.
   */
  private climb(k: number, sx: number, sy: number, sz: number): number {
    const { positions: p, origins: o, normals: n } = this;
    const a = k * 3;
    const b = this.neighbour(k, -1) * 3;
    const c = this.neighbour(k, 1) * 3;
    const [tx, ty, tz] = [o[c] - o[b], o[c + 1] - o[b + 1], o[c + 2] - o[b + 2]];
    const squares = (sx * sx + sy * sy + sz * sz) * (tx * tx + ty * ty + tz * tz);
    const product = sx * tx + sy * ty + sz * tz;
    const crossing = squares > 0 ? 1 - Math.min(1, (product * product) / squares) : 1;
    const [x, y, z] = [p[a] - o[a], p[a + 1] - o[a + 1], p[a + 2] - o[a + 2]];
    const risen = x * n[a] + y * n[a + 1] + z * n[a + 2];
    const aside = Math.max(0, x * x + y * y + z * z - risen * risen) / (asideRadii * this.radii[k]) ** 2;
    return 12 * crossing + aside;
  }

  /**
   * Pushes a point out of the deepest of what it touches, up to three times; gives the depth found first. The way out is
   * square to its own line: beside a tube that runs along, over a tube that crosses. `lift` adds to the way up.
   */
  private push(k: number, lift: number): number {
    if (this.pinned[k]) return 0;
    const { positions: p, normals: n, radii } = this;
    const a = k * 3;
    const near = this.near[k];
    const distances = this.nearDistances[k];
    let found = 0;
    for (let attempt = 0; attempt < 3; attempt++) {
      const moved = this.lookAround(k) + roundingRoom;
      let deepest = 0;
      let [dx, dy, dz, sx, sy, sz, wanted] = [0, 0, 0, 0, 0, 0, 0];
      for (let i = 0; i < near.length; i++) {
        if (distances[i] > moved) continue;
        const index = near[i];
        const own = index < 0;
        const d = own ? p : this.grid.segments;
        const from = own ? (-1 - index) * 3 : index * segmentStride;
        const to = own ? this.neighbour(-1 - index, 1) * 3 : from + 4;
        const t = segmentShare(
          d[from],
          d[from + 1],
          d[from + 2],
          d[to],
          d[to + 1],
          d[to + 2],
          p[a],
          p[a + 1],
          p[a + 2],
        );
        const [ex, ey, ez] = [d[to] - d[from], d[to + 1] - d[from + 1], d[to + 2] - d[from + 2]];
        const x = p[a] - d[from] - t * ex;
        const y = p[a + 1] - d[from + 1] - t * ey;
        const z = p[a + 2] - d[from + 2] - t * ez;
        const other = own ? radii[-1 - index] : d[from + 3] + t * (d[from + 7] - d[from + 3]);
        const apart = (radii[k] + other) * (1 - this.tube.sink);
        const depth = apart - Math.sqrt(x * x + y * y + z * z);
        if (depth > deepest) {
          deepest = depth;
          [dx, dy, dz, sx, sy, sz, wanted] = [x, y, z, ex, ey, ez, apart];
        }
      }
      if (attempt === 0) found = deepest;
      if (deepest <= 1e-9) break;

      const [tx, ty, tz] = [this.along[a], this.along[a + 1], this.along[a + 2]];
      const along = dx * tx + dy * ty + dz * tz;
      let [ux, uy, uz] = [dx - along * tx, dy - along * ty, dz - along * tz];
      const across = Math.sqrt(ux * ux + uy * uy + uz * uz);
      const inverse = across > 1e-9 ? 1 / across : 0;
      const up = this.climb(k, sx, sy, sz) + lift;
      const tilt = n[a] * tx + n[a + 1] * ty + n[a + 2] * tz;
      ux = ux * inverse + up * (n[a] - tilt * tx);
      uy = uy * inverse + up * (n[a + 1] - tilt * ty);
      uz = uz * inverse + up * (n[a + 2] - tilt * tz);
      let way = Math.sqrt(ux * ux + uy * uy + uz * uz);
      if (way < 1e-6) {
        [ux, uy, uz] = [n[a], n[a + 1], n[a + 2]];
        way = 1;
      }
      ux /= way;
      uy /= way;
      uz /= way;
      const inWay = dx * ux + dy * uy + dz * uz;
      const square = inWay * inWay - (dx * dx + dy * dy + dz * dz) + wanted * wanted;
      const by = Math.sqrt(Math.max(0, square)) - inWay;
      p[a] += by * ux;
      p[a + 1] += by * uy;
      p[a + 2] += by * uz;
    }
    return found;
  }
}
