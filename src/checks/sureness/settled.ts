import type { Vec3 } from "../../geometry/vector";
import type { FamilyHead } from "../../head/headFamily";
import type { FamilyPlace } from "./familyPlace";
import type { FeltPoints } from "./feltPoints";

/** Unknowns: shift to the right, forward, up; turn about the axis to the right, and about that forward. */
const unknowns = 5;
/** A turn is counted in mm at this distance, mm. */
const turnArm = 80;
/** Hair and skin give way by one mm on one point under so many times the piece's weight. Common practice, no source. */
const stiffness = 10;
/** Stands for friction: to shift level or to turn by one mm takes so much of the weight, and more in proportion. */
const holding = 0.02;
/** In one step nothing is moved by more, mm. */
const mostStep = 4;
const mostSteps = 24;
/** Shorter steps are rest, mm. */
const rest = 0.05;
/** Holds a step where few points are felt. */
const damping = 0.05;

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
  readonly #pull = new Float64Array(unknowns);
  readonly #matrix = new Float64Array(unknowns * unknowns);
  readonly #normal = new Float64Array(3);
  readonly #row = new Float64Array(unknowns);
  readonly #before = new Float64Array(unknowns);
  #longest = mostStep;

  constructor(points: FeltPoints, place: FamilyPlace) {
    this.#points = points;
    this.#place = place;
    this.positions = new Float64Array(points.positions.length);
  }

  /**
   * Lets the piece come to rest on a head: its weight pulls it down, hair and skin push back in proportion to how deep
   * points lie in the hair; the least of the energy, by Gauss and Newton's steps. Friction is left out.
   * @param put where the points are put, x, y, z in turn, mm
   * @param middle about which it turns, mm
   * @param weightArm from that to the centre of mass, to the right and forward, mm
   * @param hair thickness where hair grows, mm
   */
  settle(
    head: FamilyHead,
    put: Float64Array,
    middle: Vec3,
    weightArm: readonly [number, number],
    hair: number,
  ): void {
    const { count, cosines } = this.#points;
    this.shift.fill(0);
    this.turnRight = 0;
    this.turnForward = 0;
    this.#before.fill(0);
    this.#longest = mostStep;
    for (let step = 0; ; step++) {
      this.#moveAll(put, middle, this.positions);
      if (step === mostSteps) return;
      this.#pull.fill(0);
      this.#pull[2] = -1;
      this.#pull[3] = -weightArm[1] / turnArm;
      this.#pull[4] = weightArm[0] / turnArm;
      this.#matrix.fill(0);
      for (const [axis, moved] of [
        [0, this.shift[0]],
        [1, this.shift[1]],
        [3, this.turnRight * turnArm],
        [4, this.turnForward * turnArm],
      ]) {
        this.#pull[axis] -= holding * moved;
        this.#matrix[axis * unknowns + axis] = holding;
      }
      for (let i = 0; i < count; i++) {
        const x = this.positions[3 * i];
        const y = this.positions[3 * i + 1];
        const z = this.positions[3 * i + 2];
        this.#place.look(head, x, y, z);
        const gap = (this.#place.away - this.#place.radius) * cosines[i] - hair * this.#place.hair;
        if (gap < 0) {
          this.#feel(head, 3 * i, x, y, z, hair);
          this.#push(
            -gap,
            x - middle[0] - this.shift[0],
            y - middle[1] - this.shift[1],
            z - middle[2] - this.shift[2],
          );
        }
      }
      if (this.#step() < rest) return;
    }
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

  /** How the gap at a point grows when it moves: with the normal of the head, less where the hair grows thicker. */
  #feel(head: FamilyHead, at: number, x: number, y: number, z: number, hair: number): void {
    const { normals } = this.#points;
    const { away, level, hairRise } = this.#place;
    const thicker = (hair * hairRise) / (away * away);
    const down = level > 1 ? (z - head.centreZ) / level : 0;
    this.#normal[0] = normals[at] + thicker * down * x;
    this.#normal[1] = normals[at + 1] + thicker * down * (y - head.centreY);
    this.#normal[2] = normals[at + 2] - thicker * level;
  }

  #push(depth: number, x: number, y: number, z: number): void {
    const row = this.#row;
    const [nx, ny, nz] = this.#normal;
    row[0] = nx;
    row[1] = ny;
    row[2] = nz;
    row[3] = (y * nz - z * ny) / turnArm;
    row[4] = (z * nx - x * nz) / turnArm;
    for (let a = 0; a < unknowns; a++) {
      this.#pull[a] += stiffness * depth * row[a];
      for (let b = 0; b <= a; b++) this.#matrix[a * unknowns + b] += stiffness * row[a] * row[b];
    }
  }

  /** Moves on by one step. @returns how long it is, mm */
  #step(): number {
    const m = this.#matrix;
    const x = this.#pull;
    for (let a = 0; a < unknowns; a++) {
      m[a * unknowns + a] += damping;
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
    let size = 0;
    for (let a = 0; a < unknowns; a++) size = Math.max(size, Math.abs(x[a]));
    // To and fro: the step is longer than the place is wide.
    let along = 0;
    for (let a = 0; a < unknowns; a++) along += x[a] * this.#before[a];
    if (along < 0) this.#longest = Math.max(rest, this.#longest / 2);
    const share = size > this.#longest ? this.#longest / size : 1;
    this.#before.set(x);
    for (let axis = 0; axis < 3; axis++) this.shift[axis] += share * x[axis];
    this.turnRight += (share * x[3]) / turnArm;
    this.turnForward += (share * x[4]) / turnArm;
    return share * size;
  }
}
