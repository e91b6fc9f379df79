import {
  add,
  addScaled,
  cross,
  degrees,
  dot,
  length,
  normalize,
  radians,
  scale,
  subtract,
  type Vec3,
} from "../../geometry/vector";
import { maximise, type Row } from "./linearProgramme";

/** Places where one body rests on another. */
export interface Contacts {
  readonly count: number;
  /** x, y, z of each in turn, mm. */
  readonly positions: Float64Array;
  /** Unit normal of each in turn, out of the body that carries. */
  readonly normals: Float64Array;
}

/**
 * A bounded force that helps to hold the piece, as large as is needed up to `force` times the piece's weight, at a
 * point (mm): a `grip` in any direction, a `pull` in the one given (unit vector).
 */
export type Helper =
  | { readonly kind: "grip"; readonly at: Vec3; readonly force: number }
  | { readonly kind: "pull"; readonly at: Vec3; readonly force: number; readonly along: Vec3 };

/** A virtual motion in which gravity wins. */
export interface Fall {
  /** Power of gravity less that of the helpers, as a share of the weight: more than 0. */
  readonly power: number;
  /** Velocity of the centre (3), rate of turning (3), and of each helper the velocity that it is drawn along with. */
  readonly motion: Float64Array;
}

/** Less than this is no power: the solver's own error. */
const noPower = 2e-5;
/** A condition is met when it lacks no more than this. */
const enough = 2e-6;
const mostRounds = 80;
const mostSteps = 60;
/** Angles below the greatest at which a balance with helpers is looked at again. */
const stations = 6;

/** Tolerance of the motions where only about how much is asked. */
const loose = 0.02;
/** More than so many times the weight nothing presses that lies on by its weight. */
const mostSqueeze = 100;
/** A row is idle where it is met by more than this; after so many motions it is dropped. */
const farOff = 0.05;
const mostIdle = 6;

interface KeptRow extends Row {
  /** Motions in turn for which the row stood far off. */
  idle: number;
}

/** What a balance is derived from. */
interface From {
  readonly balance: Balance;
  readonly helpers: readonly Helper[];
  readonly keepsHelperRows: boolean;
}

/**
 * Balance of a rigid piece on contacts with Coulomb friction, under its own weight and bounded helping forces: forces
 * within the contacts' friction cones that balance weight and helpers in force and in moment.
 *
 * By Farkas' lemma such forces exist unless there is a virtual motion in which no force of any cone takes power and
 * gravity against the helpers gives some. That motion is sought: a linear programme in six unknowns, with one row for
 * each force that a contact can give. Rows are added where the motion found goes against a cone, in the very direction
 * in which it does so, until none does (cutting planes: Kelley 1960, from memory). So the cones are round, not
 * pyramids, and every contact counts, while the programme stays small. Rows are kept from one question to the next.
 */
export class Balance {
  readonly contacts: Contacts;
  /** Centre of mass, mm. */
  readonly centre: Vec3;
  readonly friction: number;
  readonly squeeze: number;
  readonly helpers: readonly Helper[];
  /** Length that moments are measured in, mm: a turn by 1 moves the contacts by about 1. */
  readonly #unit: number;
  /** From the centre to each contact, in that length. */
  readonly #arms: Float64Array;
  /** Shared by all that stand on the same contacts. */
  readonly #contactRows: KeptRow[];
  /** Shared by all with the same helpers, however strong. */
  readonly #helperRows: Row[];

  /**
   * @param centre centre of mass, mm
   * @param squeeze all normal forces together are at most so many times the weight
   */
  constructor(contacts: Contacts, centre: Vec3, friction: number, squeeze = Infinity, from?: From) {
    this.contacts = contacts;
    this.centre = centre;
    this.friction = friction;
    this.squeeze = squeeze;
    this.helpers = from?.helpers ?? [];
    const { count, positions } = contacts;
    if (from) {
      this.#unit = from.balance.#unit;
      this.#arms = from.balance.#arms;
      this.#contactRows = from.balance.#contactRows;
      this.#helperRows = from.keepsHelperRows ? from.balance.#helperRows : [];
    } else {
      let squares = 0;
      for (let k = 0; k < 3 * count; k++) squares += (positions[k] - centre[k % 3]) ** 2;
      this.#unit = Math.max(1, Math.sqrt(squares / Math.max(1, count)));
      this.#arms = positions.map((value, k) => (value - centre[k % 3]) / this.#unit);
      this.#contactRows = [];
      this.#helperRows = [];
    }
    if (this.#helperRows.length > 0) return;
    for (let k = 0; k < this.helpers.length; k++) {
      const helper = this.helpers[k];
      if (helper.kind === "pull") this.#helperRows.push(this.#helperRow(k, helper.along));
    }
  }

  /** The same piece on the same contacts with helpers. */
  with(helpers: readonly Helper[]): Balance {
    return this.#derived({ balance: this, helpers, keepsHelperRows: false }, this.squeeze);
  }

  /** The same with each helper's force times `share`. */
  weakened(share: number): Balance {
    const helpers = this.helpers.map((helper) => ({ ...helper, force: helper.force * share }));
    return this.#derived({ balance: this, helpers, keepsHelperRows: true }, this.squeeze);
  }

  /** The same with another bound on the normal forces. */
  squeezed(squeeze: number): Balance {
    return this.#derived({ balance: this, helpers: this.helpers, keepsHelperRows: true }, squeeze);
  }

  #derived(from: From, squeeze: number): Balance {
    return new Balance(this.contacts, this.centre, this.friction, squeeze, from);
  }

  /**
   * The motion in which the piece falls when gravity pulls along a unit vector; undefined when it is in balance.
   * @param tolerance the motion may go against the contacts by this share of its power: cheaper, where only whether the
   * piece falls is asked
   */
  fall(gravity: Vec3, tolerance = 0): Fall | undefined {
    const { helpers, squeeze } = this;
    const isBounded = squeeze < Infinity;
    const sought = {
      gain: [...gravity, 0, 0, 0, isBounded ? -squeeze : 0, ...helpers.map(({ force }) => -force)],
      least: [-1, -1, -1, -1, -1, -1, 0, ...helpers.map(() => 0)],
      most: [1, 1, 1, 1, 1, 1, isBounded ? Infinity : 0, ...helpers.map(() => Infinity)],
    };
    for (let round = 0; ; round++) {
      const found = maximise(sought, [...this.#contactRows, ...this.#helperRows]);
      // The solver gave up: what is not shown to be in balance is not taken to be.
      if (!found) return { power: 1, motion: Float64Array.of(...gravity, ...sought.least.slice(3).fill(0)) };
      if (found.value <= noPower) return undefined;
      const lack = Math.max(this.#addContactRows(found.x), this.#addHelperRows(found.x));
      if (lack <= Math.max(enough, tolerance * found.value) || round >= mostRounds) {
        this.#dropIdleRows(found.x);
        return { power: found.value, motion: found.x };
      }
    }
  }

  /**
   * The greatest angle, 0 to 90 degrees, by which gravity may turn from `level` towards `towards` (unit vectors, at
   * right angles) so that the piece stays in balance all the way; undefined when it is not in balance level.
   *
   * A motion in which the piece falls at one angle is such a motion over a whole arc of angles. The search goes from
   * the far end to that arc's lower end, and so on until there is none (Newton's method for a fractional programme:
   * Dinkelbach 1967, from memory).
   */
  greatestAngle(level: Vec3, towards: Vec3): number | undefined {
    if (this.fall(level)) return undefined;
    const atMost = (from: number): number => {
      let angle = from;
      for (let step = 0; step < mostSteps && angle > 0; step++) {
        const fall = this.fall(turnedGravity(level, towards, angle));
        if (!fall) return angle;
        // The least step is below all that is told of the angle.
        angle = Math.max(0, Math.min(angle - 1e-4, this.#lowerEnd(fall.motion, level, towards)));
      }
      return angle;
    };
    const greatest = atMost(90);
    // Contacts alone make one arc of balance; with bounded forces there may be a second one beyond a gap.
    for (let k = 1; k < stations && (this.helpers.length > 0 || this.squeeze < Infinity); k++) {
      const angle = (greatest * k) / stations;
      const held = atMost(angle);
      if (held < angle) return held;
    }
    return greatest;
  }

  /**
   * About the share, 0 to 1, of the helpers' forces that is enough for balance when gravity pulls along a unit vector;
   * undefined when all of them is not.
   */
  enoughOf(gravity: Vec3): number | undefined {
    if (this.fall(gravity, loose)) return undefined;
    let share = 0;
    for (let step = 0; step < mostSteps; step++) {
      const motion = this.weakened(share).fall(gravity, loose)?.motion;
      if (!motion) break;
      // In this motion the helpers have to take what gravity gives and the squeeze does not take.
      const given = alongGravity(motion, gravity) - this.#takenBySqueeze(motion);
      const next = given / this.#takenByHelpers(motion);
      if (!(next < 1)) return 1;
      // Within the tolerance of the motions themselves.
      if (next < share * (1 + loose)) return Math.min(1, share * (1 + loose));
      share = next;
    }
    return share;
  }

  /**
   * How many times the weight all normal forces together are at least when gravity pulls along a unit vector, however
   * great the bound on them; undefined when none are great enough.
   */
  leastSqueeze(gravity: Vec3): number | undefined {
    let squeeze = 0;
    for (let step = 0; step < mostSteps; step++) {
      const motion = this.squeezed(squeeze).fall(gravity)?.motion;
      if (!motion) return squeeze;
      const given = alongGravity(motion, gravity) - this.#takenByHelpers(motion);
      if (motion[6] < enough || given / motion[6] > mostSqueeze) return undefined;
      squeeze = Math.max(given / motion[6], squeeze + 1e-4);
    }
    return squeeze;
  }

  #takenBySqueeze(motion: Float64Array): number {
    return this.squeeze < Infinity ? this.squeeze * motion[6] : 0;
  }

  #takenByHelpers(motion: Float64Array): number {
    let taken = 0;
    for (let k = 0; k < this.helpers.length; k++) taken += this.helpers[k].force * motion[7 + k];
    return taken;
  }

  /** The least angle, degrees, from which on gravity gives power in a motion. */
  #lowerEnd(motion: Float64Array, level: Vec3, towards: Vec3): number {
    const atLevel = alongGravity(motion, level);
    const aside = alongGravity(motion, towards);
    const taken = this.#takenBySqueeze(motion) + this.#takenByHelpers(motion);
    const most = Math.hypot(atLevel, aside);
    return degrees(Math.atan2(aside, atLevel) - Math.acos(Math.min(1, taken / most)));
  }

  /**
   * Adds the force of each contact that a motion goes against most, at most one in each octant round the centre.
   * @returns by how much it goes against the worst
   */
  #addContactRows(motion: Float64Array): number {
    const { count, normals } = this.contacts;
    const arms = this.#arms;
    const [vx, vy, vz, wx, wy, wz, give] = motion;
    const worst = new Int32Array(8).fill(-1);
    const lack = new Float64Array(8).fill(-enough);
    for (let i = 0; i < count; i++) {
      const [x, y, z] = [arms[3 * i], arms[3 * i + 1], arms[3 * i + 2]];
      const [nx, ny, nz] = [normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]];
      const ux = vx + wy * z - wz * y;
      const uy = vy + wz * x - wx * z;
      const uz = vz + wx * y - wy * x;
      const away = ux * nx + uy * ny + uz * nz;
      const across = Math.sqrt(Math.max(0, ux * ux + uy * uy + uz * uz - away * away));
      const power = away - this.friction * across + give;
      const octant = (x > 0 ? 1 : 0) + (y > 0 ? 2 : 0) + (z > 0 ? 4 : 0);
      if (power < lack[octant]) {
        lack[octant] = power;
        worst[octant] = i;
      }
    }
    for (const i of worst) {
      if (i < 0) continue;
      const arm: Vec3 = [arms[3 * i], arms[3 * i + 1], arms[3 * i + 2]];
      const normal: Vec3 = [normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]];
      const velocity = velocityAt(motion, arm);
      const away = dot(velocity, normal);
      const across = normalize(addScaled(velocity, normal, -away), [0, 0, 0]);
      this.#contactRows.push({
        terms: [...wrench(arm, addScaled(normal, across, -this.friction)), 1],
        least: 0,
        idle: 0,
      });
    }
    return -Math.min(...lack);
  }

  #addHelperRows(motion: Float64Array): number {
    let most = 0;
    for (let k = 0; k < this.helpers.length; k++) {
      const helper = this.helpers[k];
      if (helper.kind === "pull") continue;
      const velocity = velocityAt(motion, this.#arm(helper.at));
      const speed = length(velocity);
      if (motion[7 + k] >= speed - enough) continue;
      most = Math.max(most, speed - motion[7 + k]);
      this.#helperRows.push(this.#helperRow(k, scale(velocity, -1 / speed)));
    }
    return most;
  }

  /** Forgets the rows that stood far off for several motions: they come back where they are needed. */
  #dropIdleRows(motion: Float64Array): void {
    const rows = this.#contactRows;
    let kept = 0;
    for (const row of rows) {
      let power = 0;
      for (let k = 0; k < 7; k++) power += row.terms[k] * motion[k];
      row.idle = power > farOff ? row.idle + 1 : 0;
      if (row.idle <= mostIdle) rows[kept++] = row;
    }
    rows.length = kept;
  }

  /** A helper takes at least the power that it takes in one of its directions. */
  #helperRow(helper: number, along: Vec3): Row {
    const terms = [...wrench(this.#arm(this.helpers[helper].at), along), 0, ...this.helpers.map(() => 0)];
    terms[7 + helper] = 1;
    return { terms, least: 0 };
  }

  #arm(at: Vec3): Vec3 {
    return scale(subtract(at, this.centre), 1 / this.#unit);
  }
}

/** `level` turned towards `towards` by an angle in degrees. */
export function turnedGravity(level: Vec3, towards: Vec3, angle: number): Vec3 {
  return addScaled(scale(level, Math.cos(radians(angle))), towards, Math.sin(radians(angle)));
}

const alongGravity = (motion: Float64Array, gravity: Vec3): number =>
  motion[0] * gravity[0] + motion[1] * gravity[1] + motion[2] * gravity[2];

const velocityAt = (motion: Float64Array, arm: Vec3): Vec3 =>
  add([motion[0], motion[1], motion[2]], cross([motion[3], motion[4], motion[5]], arm));

/** A force at the end of an arm, and its moment: what a motion is multiplied with for the power. */
const wrench = (arm: Vec3, force: Vec3): number[] => [...force, ...cross(arm, force)];
