import type { Vec3 } from "../../geometry/vector";
import type { FamilyHead, HeadFamily } from "../../head/headFamily";
import type { Limits } from "../../wearLimits";
import type { HeadRoom } from "../wornHead";
import { FamilyPlace } from "./familyPlace";
import type { FittedPiece } from "./fittedPiece";
import { Settled } from "./settled";

/** How a piece goes with a head: it fits, or why not. */
export type HeadFit = "fits" | "tight" | "loose";

/** What is found of a piece on one head. */
export interface HeadFigures {
  /** mm of girth; undefined where the piece nowhere closes round the head. */
  readonly play: number | undefined;
  /** Upwards from where it was put to where it rests, mm. */
  readonly rise: number;
  /** How far that is in all directions, mm, and the turn, degrees. */
  readonly shift: number;
  readonly turn: number;
  /** How deep it enters the bare head there, mm. */
  readonly depth: number;
  /** How much the tightest passage over hair pressed flat is too small, mm. */
  readonly lacking: number;
  /** Where a point of the piece comes to lie, mm. */
  readonly placed: (point: Vec3) => Vec3;
}

/** What the full checks found on the head that the piece was made for. */
export interface FoundOnHers {
  /** mm of girth, where it closes round the head. */
  readonly play: number | undefined;
  /** On the best way, over hair pressed flat and over the bare head, mm. */
  readonly tooSmallPressed: number;
  readonly tooSmallBare: number;
}

/**
 * Judges on many heads whether a piece goes on and rests, at a thousandth of the price of the full checks: a few of
 * its points, radii of a family of heads, distances along the ray times the cosine to the head's normal.
 *
 * The piece is put on each head at its height under the crown. It fits when
 * - its girth play there is within `girthPlayLeast` and `girthPlayMost`, where it closes round the head;
 * - it comes to rest, on the hair, within 15 mm and 10° of there, as `seat` has it, neither carried up nor sunk;
 * - where it rests it enters the bare head by no more than `entering`;
 * - on the way off that is best on its own head, no passage over hair pressed flat is too small by more than
 *   `passageTight`; over the bare head, where not even her own hair gets through.
 *
 * What the light figures say wrong on the head that it was made for is taken off on all.
 */
export class HeadJudge {
  readonly #piece: FittedPiece;
  readonly #limits: Limits;
  readonly #room: HeadRoom;
  readonly #place: FamilyPlace;
  readonly #settled: Settled;
  readonly #wrong = { play: 0, lacking: 0 };
  /** Hair over which the piece has to pass, mm. */
  #passedHair: number;
  /** The piece as it is, or as it would be made for another head: x, y, z in turn, mm. */
  readonly #felt: Float64Array;
  readonly #asked: Float64Array;
  readonly #ringed: readonly Float64Array[];
  readonly #put: Float64Array;
  /** The asked points where they rest. */
  readonly #rested: Float64Array;

  constructor(piece: FittedPiece, family: HeadFamily, room: HeadRoom, limits: Limits) {
    this.#piece = piece;
    this.#room = room;
    this.#limits = limits;
    this.#passedHair = Math.min(room.hair, room.hairPressed);
    this.#place = new FamilyPlace(family);
    this.#settled = new Settled(piece.felt, this.#place, piece.middle, piece.toCentre, limits.friction.value);
    this.#felt = piece.felt.positions.slice();
    this.#asked = piece.asked.positions.slice();
    this.#rested = new Float64Array(this.#asked.length);
    this.#ringed = piece.rings.map(({ positions }) => positions.slice());
    this.#put = new Float64Array(this.#felt.length);
  }

  /** Takes for true what the full checks found on the head that the piece was made for. */
  correct(own: FamilyHead, found: FoundOnHers): void {
    const isPressed = found.tooSmallPressed <= Math.max(0, this.#limits.passageTight.value);
    if (!isPressed) this.#passedHair = 0;
    const { play, lacking } = this.figures(own, 0);
    if (play !== undefined && found.play !== undefined) this.#wrong.play = play - found.play;
    this.#wrong.lacking = lacking - (isPressed ? found.tooSmallPressed : found.tooSmallBare);
  }

  /** Judges the piece on a head whose crown is so much higher than that of the head that it was made for, mm. */
  fit(head: FamilyHead, crown: number): HeadFit {
    const { girthPlayLeast, girthPlayMost, entering, passageTight } = this.#limits;
    const play = this.#play(head, crown);
    if (play !== undefined && play < girthPlayLeast.value) return "tight";
    if (play !== undefined && play > girthPlayMost.value) return "loose";
    this.#settle(head, crown);
    if (this.#settled.isFar) return this.#settled.shift[2] > 0 ? "tight" : "loose";
    if (this.#depth(head, crown) > entering.value) return "tight";
    if (this.#lacking(head) > passageTight.value) return "tight";
    return "fits";
  }

  /** All figures on a head. */
  figures(head: FamilyHead, crown: number): HeadFigures {
    const play = this.#play(head, crown);
    this.#settle(head, crown);
    const [mx, my, mz] = this.#piece.middle;
    const placed = ([x, y, z]: Vec3): Vec3 => this.#settled.moved([x, y, z + crown], [mx, my, mz + crown]);
    return { play, ...this.#moved(), depth: this.#depth(head, crown), lacking: this.#lacking(head), placed };
  }

  /** Makes the piece anew for another head: each point moves with the head's surface below it. */
  refit(made: FamilyHead, from: Float64Array): void {
    const { felt, asked, rings } = this.#piece;
    let at = this.#moveWith(made, felt.positions, this.#felt, from, 0);
    at = this.#moveWith(made, asked.positions, this.#asked, from, at);
    rings.forEach(({ positions }, k) => {
      at = this.#moveWith(made, positions, this.#ringed[k], from, at);
    });
  }

  /** Takes the piece as it was made again. */
  asMade(): void {
    this.#felt.set(this.#piece.felt.positions);
    this.#asked.set(this.#piece.asked.positions);
    this.#piece.rings.forEach(({ positions }, k) => {
      this.#ringed[k].set(positions);
    });
  }

  /** Radii of a head below the points of the piece as it was made, and its centre: what `refit` starts from. */
  radiiBelow(head: FamilyHead): Float64Array {
    const all = [this.#piece.felt, this.#piece.asked, ...this.#piece.rings];
    const radii = new Float64Array(2 + all.reduce((sum, { count }) => sum + count, 0));
    radii[0] = head.centreY;
    radii[1] = head.centreZ;
    let at = 2;
    for (const { positions } of all) {
      for (let k = 0; k < positions.length; k += 3) {
        this.#place.look(head, positions[k], positions[k + 1], positions[k + 2]);
        radii[at++] = this.#place.radius;
      }
    }
    return radii;
  }

  #moveWith(
    made: FamilyHead,
    positions: Float64Array,
    into: Float64Array,
    from: Float64Array,
    start: number,
  ): number {
    const fromY = from[0];
    const fromZ = from[1];
    for (let k = 0; k < positions.length; k += 3) {
      const x = positions[k];
      const y = positions[k + 1] - fromY;
      const z = positions[k + 2] - fromZ;
      // The same direction from the other head's centre.
      this.#place.look(made, x, y + made.centreY, z + made.centreZ);
      const share = 1 + (this.#place.radius - from[2 + start + k / 3]) / this.#place.away;
      into[k] = x * share;
      into[k + 1] = made.centreY + y * share;
      into[k + 2] = made.centreZ + z * share;
    }
    return start + positions.length / 3;
  }

  #play(head: FamilyHead, crown: number): number | undefined {
    let least: number | undefined;
    this.#piece.rings.forEach(({ count, cosines }, k) => {
      const positions = this.#ringed[k];
      let sum = 0;
      let nearer = 0;
      for (let i = 0; i < count; i++) {
        this.#place.look(head, positions[3 * i], positions[3 * i + 1], positions[3 * i + 2] + crown);
        const gap = (this.#place.away - this.#place.radius) * cosines[i] - this.#room.hair * this.#place.hair;
        if (i % 2 === 0) nearer = gap;
        else sum += Math.min(nearer, gap);
      }
      const play = (4 * Math.PI * sum) / count;
      if (least === undefined || play < least) least = play;
    });
    return least === undefined ? undefined : least - this.#wrong.play;
  }

  #settle(head: FamilyHead, crown: number): void {
    for (let k = 0; k < this.#put.length; k += 3) {
      this.#put[k] = this.#felt[k];
      this.#put[k + 1] = this.#felt[k + 1];
      this.#put[k + 2] = this.#felt[k + 2] + crown;
    }
    const [x, y, z] = this.#piece.middle;
    this.#settled.settle(head, this.#put, [x, y, z + crown], this.#room.hair);
  }

  #moved(): { rise: number; shift: number; turn: number } {
    const { shift, turnRight, turnForward } = this.#settled;
    return {
      rise: shift[2],
      shift: Math.hypot(shift[0], shift[1], shift[2]),
      turn: (Math.hypot(turnRight, turnForward) * 180) / Math.PI,
    };
  }

  #depth(head: FamilyHead, crown: number): number {
    const { count, cosines } = this.#piece.asked;
    const [x, y, z] = this.#piece.middle;
    // A shift up before the turn or after it is the same.
    this.#settled.movedAll(this.#asked, [x, y, z], this.#rested);
    const at = this.#rested;
    let depth = 0;
    for (let i = 0; i < count; i++) {
      this.#place.look(head, at[3 * i], at[3 * i + 1], at[3 * i + 2] + crown);
      const own = (this.#place.radius - this.#place.away) * cosines[i];
      if (own > depth) depth = own;
    }
    return depth;
  }

  /** The piece is taken off from where it rests; what lies in the head there already is no matter of the way. */
  #lacking(head: FamilyHead): number {
    const { passing, off, felt } = this.#piece;
    const { positions } = this.#settled;
    const hair = this.#passedHair;
    let most = 0;
    for (const i of passing) {
      const [x, y, z] = [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
      const there = Math.max(0, this.#depthAt(head, x, y, z, felt.cosines[i], hair));
      for (let step = 0; step < off.count; step++) {
        off.move(step, x, y, z, moved);
        const lack = this.#depthAt(head, moved[0], moved[1], moved[2], felt.cosines[i], hair) - there;
        if (lack > most) most = lack;
      }
    }
    return most - this.#wrong.lacking;
  }

  #depthAt(head: FamilyHead, x: number, y: number, z: number, cosine: number, hair: number): number {
    this.#place.look(head, x, y, z);
    return (this.#place.radius - this.#place.away) * cosine + hair * this.#place.hair;
  }
}

const moved: [number, number, number] = [0, 0, 0];
