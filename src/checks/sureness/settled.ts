import { radians, type Vec3 } from "../../geometry/vector";
import type { FamilyHead } from "../../head/headFamily";
import { depthPrice, mostShift, mostTurn } from "../balance/seat";
import type { FamilyPlace } from "./familyPlace";
import type { FeltPoints } from "./feltPoints";

/** Unknowns: shift to the right, forward, up; turn about the axis to the right, and about that forward. */
const unknowns = 5;
/** In one step nothing is moved by more, mm. */
const firstStep = 3;
const mostSteps = 16;
/** Shorter steps are rest, mm. */
const rest = 0.1;
/**
 * What lies deepest in the hair counts, as in `seat`; those nearly as deep share in it, as far as this part of the last
 * step, and at least this, mm.
 */
const sharing = { ofStep: 0.05, least: 0.03 };
/** Points that are farther from the hair than this many steps cannot be met with the next, mm. */
const watchedSteps = 3;
/** Holds a step where few points are felt, in weights per mm. */
const damping = 0.02;
/** Shifts below this cost less than their friction: the corner of its cost is rounded, mm. */
const rounding = 0.02;
const mostRounds = 15;
const mostHalvings = 12;
const mostTurnRadians = radians(mostTurn);

/** Where a piece came to rest: how it moved from where it was put. Written over by the next. */
export class Settled {
  /** mm, mm, mm, and turns in rad. */
  readonly shift = new Float64Array(3);
  turnRight = 0;
  turnForward = 0;
  /** Where points came to lie, x, y, z in turn, mm. */
  readonly positions: Float64Array;
  readonly #points: FeltPoints;
  readonly #place: FamilyPlace;
  readonly #toCentre: Vec3;
  /** A turn is counted in mm at this distance, mm. */
  readonly #turnArm: number;
  /** What friction takes of the weight per mm of each unknown. */
  readonly #toll: readonly number[];
  readonly #pull = new Float64Array(unknowns);
  readonly #matrix = new Float64Array(unknowns * unknowns);
  readonly #way = new Float64Array(unknowns);
  /** The motion that is sought, what is tried for it, and the one before. */
  readonly #motion = new Float64Array(unknowns);
  readonly #trial = new Float64Array(unknowns);
  readonly #before = new Float64Array(unknowns);
  /** Of the points that may be met: gap, and how it grows with each unknown. */
  readonly #gaps: Float64Array;
  readonly #rows: Float64Array;
  /** Share of each in what the depth costs. */
  readonly #weights: Float64Array;
  readonly #mean = new Float64Array(unknowns);
  #met = 0;
  /** How near to the deepest others share in it, mm. */
  #shared = 0;

  /**
   * @param middle about which it turns, mm
   * @param toCentre from there to the centre of mass, mm
   */
  constructor(points: FeltPoints, place: FamilyPlace, middle: Vec3, toCentre: Vec3, friction: number) {
    this.#points = points;
    this.#place = place;
    this.#toCentre = toCentre;
    this.positions = new Float64Array(points.positions.length);
    this.#gaps = new Float64Array(points.count);
    this.#rows = new Float64Array(unknowns * points.count);
    this.#weights = new Float64Array(points.count);
    let squares = 0;
    for (let k = 0; k < points.positions.length; k++) squares += (points.positions[k] - middle[k % 3]) ** 2;
    this.#turnArm = Math.max(10, Math.sqrt(squares / Math.max(1, points.count)));
    this.#toll = [friction, friction, 0, friction / 2, friction / 2];
  }

  /**
   * Lets the piece come to rest on a head as `seat` does, on fewer points: its weight pulls it down, what lies deepest
   * in the hair costs `depthPrice`, friction takes its part of every step. In each step the least of that energy is
   * sought on the head as its tangents tell it, by Newton's method with the corners of depth and friction rounded (the
   * greatest of values by the logarithm of their exponentials' sum: Boyd & Vandenberghe 2004, *Convex Optimization*,
   * 3.1.5, from memory). Further off than `seat` follows it, it is not followed either.
   * @param put where the points are put, x, y, z in turn, mm
   * @param middle about which it turns, mm
   * @param hair thickness where hair grows, mm
   */
  settle(head: FamilyHead, put: Float64Array, middle: Vec3, hair: number): void {
    this.shift.fill(0);
    this.turnRight = 0;
    this.turnForward = 0;
    this.#before.fill(0);
    let longest = firstStep;
    let reach = firstStep;
    this.#shared = sharing.ofStep * firstStep;
    for (let step = 0; step < mostSteps; step++) {
      this.#moveAll(put, middle, this.positions);
      if (this.isFar) return;
      const box = Math.min(longest, reach);
      this.#feelAll(head, middle, hair, watchedSteps * box);
      this.#descend();
      const size = sizeOf(this.#motion);
      let along = 0;
      for (let a = 0; a < unknowns; a++) along += this.#motion[a] * this.#before[a];
      // To and fro: the step is longer than the place is wide.
      if (along < 0) longest /= 2;
      if (size < rest || longest < rest) return;
      const share = size > box ? box / size : 1;
      reach = 2 * share * size + 0.5;
      this.#shared = Math.max(sharing.least, sharing.ofStep * share * size);
      this.#before.set(this.#motion);
      for (let axis = 0; axis < 3; axis++) this.shift[axis] += share * this.#motion[axis];
      this.turnRight += (share * this.#motion[3]) / this.#turnArm;
      this.turnForward += (share * this.#motion[4]) / this.#turnArm;
    }
    this.#moveAll(put, middle, this.positions);
  }

  /** Where points that were put with the others come to lie, x, y, z in turn, mm. */
  movedAll(put: Float64Array, middle: Vec3, into: Float64Array): void {
    this.#moveAll(put, middle, into);
  }

  /** Where a point that was put with the others comes to lie, mm. */
  moved([px, py, pz]: Vec3, [mx, my, mz]: Vec3): Vec3 {
    const into = new Float64Array(3);
    this.#moveAll(Float64Array.of(px, py, pz), [mx, my, mz], into);
    return [into[0], into[1], into[2]];
  }

  /** Farther off than `seat` would let it rest. */
  get isFar(): boolean {
    const [x, y, z] = this.shift;
    return (
      x * x + y * y + z * z > mostShift * mostShift ||
      this.turnRight * this.turnRight + this.turnForward * this.turnForward >
        mostTurnRadians * mostTurnRadians
    );
  }

  #moveAll(put: Float64Array, [mx, my, mz]: Vec3, into: Float64Array): void {
    const [cr, sr] = [Math.cos(this.turnRight), Math.sin(this.turnRight)];
    const [cf, sf] = [Math.cos(this.turnForward), Math.sin(this.turnForward)];
    const [sx, sy, sz] = this.shift;
    for (let k = 0; k < put.length; k += 3) {
      const x = put[k] - mx;
      const y = put[k + 1] - my;
      const z = put[k + 2] - mz;
      // About the axis forward, then about that to the right.
      const x1 = cf * x + sf * z;
      const z1 = cf * z - sf * x;
      into[k] = mx + sx + x1;
      into[k + 1] = my + sy + cr * y - sr * z1;
      into[k + 2] = mz + sz + sr * y + cr * z1;
    }
  }

  /** Feels at all points how far they are off the hair, keeps those that are near, and turns the weight with the piece. */
  #feelAll(head: FamilyHead, middle: Vec3, hair: number, watched: number): void {
    const place = this.#place;
    const rows = this.#rows;
    const arm = this.#turnArm;
    const [cx, cy, cz] = [middle[0] + this.shift[0], middle[1] + this.shift[1], middle[2] + this.shift[2]];
    this.#met = 0;
    for (let i = 0; i < this.#points.count; i++) {
      const x = this.positions[3 * i];
      const y = this.positions[3 * i + 1];
      const z = this.positions[3 * i + 2];
      place.feel(head, x, y, z, hair);
      if (place.gap > watched) continue;
      const { nx, ny, nz } = place;
      const [rx, ry, rz] = [x - cx, y - cy, z - cz];
      const at = unknowns * this.#met;
      rows[at] = nx;
      rows[at + 1] = ny;
      rows[at + 2] = nz;
      rows[at + 3] = (ry * nz - rz * ny) / arm;
      rows[at + 4] = (rz * nx - rx * nz) / arm;
      this.#gaps[this.#met++] = place.gap;
    }
    const [x, y, z] = this.#toCentre;
    const [cf, sf] = [Math.cos(this.turnForward), Math.sin(this.turnForward)];
    const forward = Math.cos(this.turnRight) * y - Math.sin(this.turnRight) * (cf * z - sf * x);
    this.#pull.fill(0);
    this.#pull[2] = -1;
    this.#pull[3] = -forward / arm;
    this.#pull[4] = (cf * x + sf * z) / arm;
  }

  /** Seeks the motion of least energy. */
  #descend(): void {
    const motion = this.#motion;
    const trial = this.#trial;
    motion.fill(0);
    let energy = this.#energy(motion);
    for (let round = 0; round < mostRounds; round++) {
      const falls = this.#newton();
      let share = 1;
      for (let halving = 0; ; halving++) {
        for (let a = 0; a < unknowns; a++) trial[a] = motion[a] + share * this.#way[a];
        const tried = this.#energy(trial);
        if (tried <= energy - 1e-4 * share * falls) {
          energy = tried;
          motion.set(trial);
          break;
        }
        if (halving === mostHalvings) return;
        share /= 2;
      }
      const size = share * sizeOf(this.#way);
      if (size < rest / 4 || size < 0.05 * sizeOf(motion)) return;
    }
  }

  /** In weights times mm, of a motion from where it is. */
  #energy(motion: Float64Array): number {
    let energy = 0;
    for (let a = 0; a < unknowns; a++) {
      const by = motion[a];
      energy += by * (0.5 * damping * by - this.#pull[a]);
      energy += this.#toll[a] * (Math.sqrt(by * by + rounding * rounding) - rounding);
    }
    return energy + depthPrice * this.#depth(motion);
  }

  /** The greatest depth in the hair after a motion, those nearly as deep sharing in it, and the share of each. mm */
  #depth(motion: Float64Array): number {
    const [m0, m1, m2, m3, m4] = motion;
    const rows = this.#rows;
    const weights = this.#weights;
    let deepest = 0;
    for (let i = 0, at = 0; i < this.#met; i++, at += unknowns) {
      const depth = -(
        this.#gaps[i] +
        rows[at] * m0 +
        rows[at + 1] * m1 +
        rows[at + 2] * m2 +
        rows[at + 3] * m3 +
        rows[at + 4] * m4
      );
      weights[i] = depth;
      if (depth > deepest) deepest = depth;
    }
    let sum = Math.exp(-deepest / this.#shared);
    for (let i = 0; i < this.#met; i++) {
      const below = (deepest - weights[i]) / this.#shared;
      weights[i] = below > 25 ? 0 : Math.exp(-below);
      sum += weights[i];
    }
    for (let i = 0; i < this.#met; i++) weights[i] /= sum;
    return deepest + this.#shared * Math.log(sum);
  }

  /** Newton's way from the motion as it stands. @returns how fast the energy falls along it */
  #newton(): number {
    const m = this.#matrix;
    const x = this.#way;
    m.fill(0);
    for (let a = 0; a < unknowns; a++) {
      const by = this.#motion[a];
      const long = Math.sqrt(by * by + rounding * rounding);
      x[a] = this.#pull[a] - damping * by - (this.#toll[a] * by) / long;
      m[a * unknowns + a] = damping + (this.#toll[a] * rounding * rounding) / (long * long * long);
    }
    const rows = this.#rows;
    const mean = this.#mean.fill(0);
    const steep = depthPrice / this.#shared;
    // The shares are those of the energy that was asked last, that of this motion.
    for (let i = 0, at = 0; i < this.#met; i++, at += unknowns) {
      const weight = this.#weights[i];
      if (weight < 1e-6) continue;
      for (let a = 0; a < unknowns; a++) {
        const weighed = weight * rows[at + a];
        mean[a] += weighed;
        for (let b = 0; b <= a; b++) m[a * unknowns + b] += steep * weighed * rows[at + b];
      }
    }
    for (let a = 0; a < unknowns; a++) {
      x[a] += depthPrice * mean[a];
      for (let b = 0; b <= a; b++) m[a * unknowns + b] -= steep * mean[a] * mean[b];
    }
    const [f0, f1, f2, f3, f4] = x;
    this.#solve();
    return f0 * x[0] + f1 * x[1] + f2 * x[2] + f3 * x[3] + f4 * x[4];
  }

  /** Solves matrix · way = way, by Cholesky's root of the matrix. */
  #solve(): void {
    const m = this.#matrix;
    const x = this.#way;
    for (let a = 0; a < unknowns; a++) {
      for (let b = 0; b <= a; b++) {
        let sum = m[a * unknowns + b];
        for (let k = 0; k < b; k++) sum -= m[a * unknowns + k] * m[b * unknowns + k];
        m[a * unknowns + b] = a === b ? Math.sqrt(sum) : sum / m[b * unknowns + b];
      }
    }
    for (let a = 0; a < unknowns; a++) {
      for (let k = 0; k < a; k++) x[a] -= m[a * unknowns + k] * x[k];
      x[a] /= m[a * unknowns + a];
    }
    for (let a = unknowns - 1; a >= 0; a--) {
      for (let k = a + 1; k < unknowns; k++) x[a] -= m[k * unknowns + a] * x[k];
      x[a] /= m[a * unknowns + a];
    }
  }
}

/** The greatest of a motion's parts, mm. */
function sizeOf(motion: Float64Array): number {
  let size = 0;
  for (let a = 0; a < unknowns; a++) size = Math.max(size, Math.abs(motion[a]));
  return size;
}
