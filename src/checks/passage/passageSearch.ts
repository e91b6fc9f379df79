import type { WornHead } from "../wornHead";
import { PassageClearance } from "./passageClearance";
import { passageMap, seenSurface } from "./passageMap";
import { alongMotion, beside, edgeHinge, type Hinge, type Motion, type Slide } from "./passageMotion";
import { headCentre, type SearchPoints } from "./passagePoints";
import { coarseCell, slideClearance, slideGrid } from "./passageSlides";

/** A motion and how it goes, as far as coarse maps show: to about 1.5 mm. */
export interface Tried<M extends Motion = Motion> {
  readonly motion: M;
  readonly rank: number;
}

/** Where a piece's edge lies that it may be hinged at, mm. */
export interface HingeEdge {
  readonly edge: "front" | "back";
  readonly y: number;
  readonly z: number;
}

/** More room than this makes a way no better, mm. */
const roomEnough = 3;
/** A way is moved so often by each step while it gets better. */
const mostRounds = 2;
/** Side of a cell of the maps on which the best ways are made better, mm. */
const refinedCell = 1.4;

/** Where axes are tried: outwards from an edge and above it, mm. The farther out, the more like a slide it is. */
const beyondEdge = [
  [0, 0],
  [0, -25],
  [20, 0],
  [50, 25],
  [50, -25],
  [130, 0],
] as const;

/** Nothing lacks over the bare head before all, then over pressed hair, then there is room. */
const rankOf = (bare: number, pressed: number): number =>
  10 * Math.min(bare, 0) + Math.min(pressed, roomEnough);

/** Looks for the motions that take a piece off a head, on coarse maps and with some of the piece's points. */
export class PassageSearch {
  readonly #head: WornHead;
  readonly #bare: Float32Array;
  readonly #pressed: Float32Array;
  readonly #seen: Float32Array;
  readonly #order: Uint32Array;

  constructor(points: SearchPoints, head: WornHead) {
    this.#head = head;
    this.#bare = points.bare;
    this.#pressed = points.pressed;
    this.#seen = new Float32Array(points.bare.length);
    this.#order = Uint32Array.from(points.samples, (_, k) => k);
  }

  /** The best slide off that is not straight up. */
  tilted(): Tried<Slide> {
    const { bare, pressed } = this.#head;
    let best: Tried<Slide> | undefined;
    for (const { tilt, azimuth, motion } of slideGrid.slice(1)) {
      const rank = this.#rank(
        motion,
        () => slideClearance(bare, tilt, azimuth),
        () => slideClearance(pressed, tilt, azimuth),
        best ? best.rank : -Infinity,
      );
      if (!best || rank > best.rank) best = { motion, rank };
    }
    return this.#refined(best as Tried<Slide>, [8, 4, 2], ({ direction }, step) => {
      const angle = (step * Math.PI) / 180;
      return [
        [angle, 0],
        [-angle, 0],
        [0, angle],
        [0, -angle],
      ].map(([one, other]): Slide => ({ kind: "slide", direction: beside(direction, one, other) }));
    });
  }

  /** The best hinge about an axis at an edge or beyond it. */
  hinged({ edge, y, z }: HingeEdge): Tried<Hinge> {
    const forward = edge === "front" ? 1 : -1;
    const at = (py: number, pz: number): Hinge => edgeHinge(edge, py, pz, this.turnAbout(edge, py, pz));
    let best: Tried<Hinge> | undefined;
    for (const [out, up] of beyondEdge) {
      const motion = at(y + forward * out, z + up);
      const rank = this.#rankAnew(motion, best ? best.rank : -Infinity, coarseCell);
      if (!best || rank > best.rank) best = { motion, rank };
    }
    return this.#refined(best as Tried<Hinge>, [10, 4], ({ origin }, step) =>
      [
        [step, 0],
        [-step, 0],
        [0, step],
        [0, -step],
      ].map(([dy, dz]) => at(origin[1] + dy, origin[2] + dz)),
    );
  }

  /**
   * How far a piece turns about an edge until all of it that lies over the head has passed the head, rad; at least a
   * little, at most to 200°.
   */
  turnAbout(edge: "front" | "back", y: number, z: number): number {
    const least = Math.PI / 18;
    const hinge = edgeHinge(edge, y, z, least);
    const head = spanOf(
      alongMotion(this.#head.bare.mesh.positions, hinge, copyOf(this.#head.bare.mesh.positions)),
    );
    const seen = alongMotion(this.#bare, hinge, this.#seen);
    let turn = least;
    for (let i = 2; i < seen.length; i += 3) {
      // What lies on the other side of the cut of the angle, before the axis, has not the head to pass.
      if (seen[i] > head.least - 0.2) turn = Math.max(turn, head.most - seen[i]);
    }
    return Math.min(turn, (10 * Math.PI) / 9);
  }

  #rank(
    motion: Motion,
    bare: () => PassageClearance,
    pressed: () => PassageClearance,
    floor: number,
  ): number {
    alongMotion(this.#bare, motion, this.#seen);
    const overBare = bare().least(this.#seen, (floor - roomEnough) / 10, this.#order);
    const most = rankOf(overBare, overBare);
    if (most <= floor || this.#head.pressed === this.#head.bare) return most;
    if (this.#pressed !== this.#bare) alongMotion(this.#pressed, motion, this.#seen);
    const overPressed = pressed().least(this.#seen, floor - 10 * Math.min(overBare, 0), this.#order);
    return rankOf(overBare, overPressed);
  }

  #rankAnew(motion: Motion, floor: number, cell: number): number {
    const { bare, pressed } = this.#head;
    const clearanceOf = (mesh: typeof bare.mesh) => () =>
      new PassageClearance(passageMap(seenSurface(mesh, motion), cell));
    return this.#rank(motion, clearanceOf(bare.mesh), clearanceOf(pressed.mesh), floor);
  }

  #refined<M extends Motion>(
    start: Tried<M>,
    steps: readonly number[],
    round: (motion: M, step: number) => readonly M[],
  ): Tried<M> {
    let best: Tried<M> = { motion: start.motion, rank: this.#rankAnew(start.motion, -Infinity, refinedCell) };
    for (const step of steps) {
      for (let again = 0; again < mostRounds && best.rank < roomEnough; again++) {
        const before = best;
        for (const motion of round(before.motion, step)) {
          const rank = this.#rankAnew(motion, best.rank, refinedCell);
          if (rank > best.rank) best = { motion, rank };
        }
        if (best === before) break;
      }
    }
    return best;
  }
}

/** Lowest inner places at the front and the back of a piece. */
export function hingeEdges(positions: Float32Array, head: WornHead): HingeEdge[] {
  const [, cy] = headCentre(head);
  return (["front", "back"] as const).map((edge): HingeEdge => {
    const forward = edge === "front" ? 1 : -1;
    const near: [number, number][] = [];
    let outermost: [number, number] = [cy, 0];
    let most = -Infinity;
    for (let i = 0; i < positions.length; i += 3) {
      const [x, y, z] = [positions[i], positions[i + 1], positions[i + 2]];
      const out = forward * (y - cy);
      if (out > most) {
        most = out;
        outermost = [y, z];
      }
      // In a narrow wedge before the face or behind the head, and no arm that reaches far out.
      if (out > 40 && out < 150 && Math.abs(x) < 0.5 * out) near.push([y, z]);
    }
    if (near.length === 0) return { edge, y: outermost[0], z: outermost[1] };
    const lowest = near.reduce((least, [, z]) => Math.min(least, z), Infinity);
    const inner = near
      .filter(([, z]) => z < lowest + 8)
      .reduce((a, b) => (forward * (b[0] - a[0]) < 0 ? b : a));
    return { edge, y: inner[0], z: lowest };
  });
}

const copyOf = (positions: Float32Array): Float32Array => new Float32Array(positions.length);

function spanOf(seen: Float32Array): { least: number; most: number } {
  let [least, most] = [Infinity, -Infinity];
  for (let i = 2; i < seen.length; i += 3) {
    if (seen[i] < least) least = seen[i];
    if (seen[i] > most) most = seen[i];
  }
  return { least, most };
}
