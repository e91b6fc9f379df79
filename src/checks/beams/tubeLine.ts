import { lastAtOrBelow } from "../../geometry/curve";
import { sectionAxes } from "../../geometry/frames";
import { type PreparedTube, prepareTube } from "../../geometry/rings";
import { defaultTolerance } from "../../geometry/sweep";
import type { TubeShape } from "../../geometry/tubeShape";
import type { Vec2, Vec3 } from "../../geometry/vector";
import { type Cavity, circleMoments, outlineMoments, type SectionMoments } from "./sectionStiffness";

/** Usual distance between two samples of a centre line, mm. */
const spacing = 2.5;
/** A tube has at least so many stretches, and at most. */
const fewest = 12;
const mostStretches = 2000;

/** The centre line of a tube, sampled: its sections with their places. */
export class TubeLine {
  readonly closed: boolean;
  /** Samples; a closed tube has none at the end of its path. */
  readonly count: number;
  /** Length of the path, mm. */
  readonly length: number;
  /** mm from the start of the path, ascending. */
  readonly positions: Float64Array;
  /** x, y, z of each in turn; unit vectors but for the points, mm. */
  readonly points: Float64Array;
  readonly tangents: Float64Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  /** mm, with tips. */
  readonly radii: Float64Array;
  readonly moments: SectionMoments;
  /** The outline in radii; undefined for a circle. */
  readonly outline: readonly Vec2[] | undefined;
  /** Farthest point of the section from the path, in radii. */
  readonly reach: number;
  readonly #tube: PreparedTube;
  /** Balls round runs of samples: x, y, z, radius, greatest radius of the tube there. */
  readonly #blocks: Float64Array;
  #lastBlock = 0;
  /** Greatest reach of any section, mm. */
  readonly #thickest: number;
  readonly #hollow: { readonly wall: number; readonly inset: number } | undefined;

  /** Throws a MessageError for a tube that cannot be swept. */
  constructor(shape: TubeShape) {
    const tube = prepareTube(shape, defaultTolerance);
    const { curve, profile, section } = tube;
    this.#tube = tube;
    this.closed = curve.closed;
    this.length = curve.length;
    const stretches = Math.min(mostStretches, Math.max(fewest, Math.ceil(curve.length / spacing)));
    const marks = Array.from({ length: stretches + 1 }, (_, i) => i / stretches);
    if (!shape.path.closed || profile.corners.length > 0) {
      for (const position of [...profile.corners, ...profile.knots]) marks.push(position / curve.length);
    }
    const sorted = Float64Array.from(marks).sort();
    const shares: number[] = [];
    for (const share of sorted) {
      if (share >= 0 && share <= 1 && !(share - shares[shares.length - 1] < 1e-6)) shares.push(share);
    }
    const samples = curve.sample(shares);
    const axes = sectionAxes(samples, shares, tube.turnAt);
    this.count = curve.closed ? shares.length - 1 : shares.length;
    this.positions = Float64Array.from(shares.slice(0, this.count), (share) => share * curve.length);
    this.points = samples.points;
    this.tangents = samples.tangents;
    this.x = axes.x;
    this.y = axes.y;
    this.radii = this.positions.map((position) => profile.radiusAt(position));
    this.outline = section.round ? undefined : section.points;
    this.moments = (this.outline && outlineMoments(this.outline)) ?? circleMoments;
    this.reach = section.round ? 1 : section.reach;
    this.#blocks = ballsRound(this);
    this.#thickest = this.reach * this.radii.reduce((a, b) => Math.max(a, b));
    const wall = shape.hollow?.wall ?? 0;
    if (wall > 0) this.#hollow = { wall, inset: wall / (section.round ? 1 : inradius(section.points)) };
  }

  /** The sample behind the i-th: where the i-th stretch ends. */
  next(i: number): number {
    return i + 1 < this.count ? i + 1 : 0;
  }

  /** Stretches between two samples. */
  get stretches(): number {
    return this.closed ? this.count : this.count - 1;
  }

  /** The core of the section where the radius is `radius`, if it has one. */
  cavityAt(radius: number): Cavity | undefined {
    const hollow = this.#hollow;
    // What a hollow tube leaves out: a core narrower than this is none, mm of radius.
    if (!hollow || radius - hollow.inset < 0.4) return undefined;
    return { share: (radius - hollow.inset) / radius, wall: hollow.wall };
  }

  /** The section at a position, mm from the path's start; closed tubes wrap it, open ones clamp it. */
  at(position: number): LinePlace {
    const { curve, profile } = this.#tube;
    const wrapped = this.closed
      ? position - this.length * Math.floor(position / this.length)
      : Math.min(this.length, Math.max(0, position));
    const sample = curve.sample([wrapped / this.length]);
    const before = lastAtOrBelow(this.positions, wrapped);
    const tangent: Vec3 = [sample.tangents[0], sample.tangents[1], sample.tangents[2]];
    const x = squareTo(tangent, this.x, before, this.#share(before, wrapped));
    const y: Vec3 = [
      tangent[1] * x[2] - tangent[2] * x[1],
      tangent[2] * x[0] - tangent[0] * x[2],
      tangent[0] * x[1] - tangent[1] * x[0],
    ];
    return {
      position: wrapped,
      point: [sample.points[0], sample.points[1], sample.points[2]],
      tangent,
      x,
      y,
      radius: profile.radiusAt(wrapped),
    };
  }

  /** The section at a sample. */
  sample(i: number): LinePlace {
    const of = (list: Float64Array): Vec3 => [list[3 * i], list[3 * i + 1], list[3 * i + 2]];
    return {
      position: this.positions[i],
      point: of(this.points),
      tangent: of(this.tangents),
      x: of(this.x),
      y: of(this.y),
      radius: this.radii[i],
    };
  }

  /** The sample to whose section a point of the surface belongs: the nearest, thick sections first. */
  nearest(px: number, py: number, pz: number): number {
    const blocks = this.#blocks;
    // Points of a surface come one beside another.
    const first = this.#lastBlock;
    let at = this.#nearestIn(first, px, py, pz, first * blockSize);
    let best = this.#powerAt(at, px, py, pz);
    let far = Math.sqrt(Math.max(0, best + this.#thickest * this.#thickest));
    for (let block = 0; 5 * block < blocks.length; block++) {
      const b = 5 * block;
      const dx = px - blocks[b];
      const dy = py - blocks[b + 1];
      const dz = pz - blocks[b + 2];
      const away2 = dx * dx + dy * dy + dz * dz;
      // No sample of the block can be nearer than its ball's surface: first as if it were as thick as the thickest.
      if (away2 > (blocks[b + 3] + far) * (blocks[b + 3] + far) || block === first) continue;
      const bound = best + blocks[b + 4] * blocks[b + 4];
      const reachTo = blocks[b + 3] + Math.sqrt(Math.max(0, bound));
      if (bound < 0 || away2 > reachTo * reachTo) continue;
      const own = this.#nearestIn(block, px, py, pz, at);
      if (own === at) continue;
      at = own;
      best = this.#powerAt(at, px, py, pz);
      far = Math.sqrt(Math.max(0, best + this.#thickest * this.#thickest));
    }
    this.#lastBlock = (at / blockSize) | 0;
    return at;
  }

  /** The nearest of the samples of a block and another one; of equals the first. */
  #nearestIn(block: number, px: number, py: number, pz: number, other: number): number {
    let at = other;
    let best = this.#powerAt(other, px, py, pz);
    const end = Math.min(this.count, (block + 1) * blockSize);
    for (let i = block * blockSize; i < end; i++) {
      const power = this.#powerAt(i, px, py, pz);
      if (power < best || (power === best && i < at)) {
        best = power;
        at = i;
      }
    }
    return at;
  }

  /** Power of a point to the ball of a sample: square of its distance less that of the ball's radius, mm². */
  #powerAt(i: number, px: number, py: number, pz: number): number {
    const { points } = this;
    const dx = px - points[3 * i];
    const dy = py - points[3 * i + 1];
    const dz = pz - points[3 * i + 2];
    const r = this.radii[i] * this.reach;
    return dx * dx + dy * dy + dz * dz - r * r;
  }

  /** Position on the path, mm, of the section in which a point lies that belongs to sample `i`. */
  positionOf(i: number, [px, py, pz]: Vec3): number {
    const { points, tangents } = this;
    const along =
      (px - points[3 * i]) * tangents[3 * i] +
      (py - points[3 * i + 1]) * tangents[3 * i + 1] +
      (pz - points[3 * i + 2]) * tangents[3 * i + 2];
    const position = this.positions[i] + along;
    return this.closed ? position : Math.min(this.length, Math.max(0, position));
  }

  /** Whether a point lies within the tube's own body. */
  contains(point: Vec3): boolean {
    let place = this.at(this.positionOf(this.nearest(...point), point));
    const along = (): number =>
      [0, 1, 2].reduce((sum, axis) => sum + (point[axis] - place.point[axis]) * place.tangent[axis], 0);
    // On a bent path the foot of a point lies a little off the one of the nearest sample.
    for (let round = 0; round < 4 && Math.abs(along()) > 1e-3 * place.radius; round++) {
      place = this.at(place.position + along());
    }
    const [dx, dy, dz] = [0, 1, 2].map((axis) => point[axis] - place.point[axis]);
    if (!this.closed && (place.position <= 0 || place.position >= this.length) && Math.abs(along()) > 1e-6) {
      // Beyond the end of the path there is nothing, or a ball.
      const cap = place.position <= 0 ? this.#tube.profile.start : this.#tube.profile.end;
      return cap.kind === "dome" && Math.hypot(dx, dy, dz) < cap.radius;
    }
    const u = (dx * place.x[0] + dy * place.x[1] + dz * place.x[2]) / place.radius;
    const v = (dx * place.y[0] + dy * place.y[1] + dz * place.y[2]) / place.radius;
    return this.outline ? surrounds(this.outline, u, v) : u * u + v * v < 1;
  }

  #share(before: number, position: number): number {
    const next = before + 1 < this.count ? this.positions[before + 1] : this.length;
    const step = next - this.positions[before];
    return step > 0 ? (position - this.positions[before]) / step : 0;
  }
}

/** Samples in one ball. */
const blockSize = 8;

function ballsRound({ count, points, radii, reach }: TubeLine): Float64Array {
  const blocks = new Float64Array(5 * Math.ceil(count / blockSize));
  for (let b = 0; 5 * b < blocks.length; b++) {
    const from = b * blockSize;
    const to = Math.min(count, from + blockSize);
    const middle = [0, 1, 2].map((axis) => {
      let sum = 0;
      for (let i = from; i < to; i++) sum += points[3 * i + axis];
      return sum / (to - from);
    });
    let [far, thickest] = [0, 0];
    for (let i = from; i < to; i++) {
      const [x, y, z] = [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
      far = Math.max(far, Math.hypot(x - middle[0], y - middle[1], z - middle[2]));
      thickest = Math.max(thickest, radii[i] * reach);
    }
    blocks.set([middle[0], middle[1], middle[2], far, thickest], 5 * b);
  }
  return blocks;
}

/** A section of a tube at a place of its path. */
export interface LinePlace {
  /** mm from the start of the path. */
  readonly position: number;
  readonly point: Vec3;
  readonly tangent: Vec3;
  readonly x: Vec3;
  readonly y: Vec3;
  readonly radius: number;
}

/** The axis between two samples of it, made square to a tangent. */
function squareTo(tangent: Vec3, axes: Float64Array, i: number, share: number): Vec3 {
  const j = 3 * i + 5 < axes.length ? i + 1 : i;
  const v = [0, 1, 2].map((axis) => axes[3 * i + axis] * (1 - share) + axes[3 * j + axis] * share);
  const k = v[0] * tangent[0] + v[1] * tangent[1] + v[2] * tangent[2];
  for (let axis = 0; axis < 3; axis++) v[axis] -= k * tangent[axis];
  const size = Math.hypot(v[0], v[1], v[2]);
  return size > 1e-9
    ? [v[0] / size, v[1] / size, v[2] / size]
    : [axes[3 * i], axes[3 * i + 1], axes[3 * i + 2]];
}

/** Radius of the greatest circle about the path within an outline that goes around it, in radii. */
function inradius(points: readonly Vec2[]): number {
  let least = Infinity;
  points.forEach(([ax, ay], i) => {
    const [bx, by] = points[(i + 1) % points.length];
    least = Math.min(least, Math.abs(ax * by - ay * bx) / Math.hypot(bx - ax, by - ay));
  });
  return Math.max(least, 0.01);
}

/** Whether a point lies within a polygon (even-odd rule). */
function surrounds(points: readonly Vec2[], x: number, y: number): boolean {
  let inside = false;
  for (let i = 0, j = points.length - 1; i < points.length; j = i++) {
    const [ax, ay] = points[i];
    const [bx, by] = points[j];
    if (ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax) inside = !inside;
  }
  return inside;
}
