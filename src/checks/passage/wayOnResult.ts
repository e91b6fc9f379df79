import type { Vec3 } from "../../geometry/vector";
import type { Finding } from "../finding";
import type { HeadSide } from "../wornHead";
import type { Motion } from "./passageMotion";
import type { Opening } from "./passageOpening";

/** The motion that takes the piece off, to animate; backwards it is the way on. */
export type MotionOff =
  | {
      readonly kind: "slide";
      /** Unit vector, head frame. */
      readonly direction: Vec3;
      /** How far until all of it is past the head, mm. */
      readonly distance: number;
    }
  | {
      readonly kind: "hinge";
      /** The edge about which it turns. */
      readonly edge: "front" | "back";
      /** A point of the axis, mm. */
      readonly origin: Vec3;
      /** Unit vector. */
      readonly axis: Vec3;
      /** Right-handed turn about the axis that takes it off. */
      readonly degrees: number;
    };

/** One way on to the head. */
export interface Way {
  readonly kind: "straight" | "tilted" | "hinge";
  readonly off: MotionOff;
  /** How much the tightest passage is too small over the bare head, mm; 0 when it passes. */
  readonly tooSmallBare: number;
  /** The same over hair pressed flat. */
  readonly tooSmallPressed: number;
  /** Room at the tightest over the bare head, mm, at most 12; 0 when it does not pass. */
  readonly roomBare: number;
  /** The tightest place, on the piece as it sits, mm: over the bare head where it does not pass that, else over hair. */
  readonly tightestAt: Vec3;
  readonly side: HeadSide;
  /** What of the head is there, as a sentence has it, for example `at the left ear`. */
  readonly place: string;
  /** Parts in the way, the worst first: over the bare head where it does not pass that, else over hair. */
  readonly parts: readonly string[];
}

/** *Can it go on?* */
export interface WayOn {
  /** Some way leads over the bare head. */
  readonly passes: boolean;
  /** Some way leads over the head with its hair pressed flat. */
  readonly passesPressed: boolean;
  /** Straight down; where that is too tight also the best tilted way, and those hinged at the front and the back. */
  readonly ways: readonly Way[];
  /** Which of the ways is the best. */
  readonly best: number;
  /** How deep the piece enters the bare head at its seat, mm: no matter of the way, which begins on the skin there. */
  readonly entersAtSeat: number;
  /** Where none passes: a cut with which one does, if there is one. */
  readonly opening?: Opening;
  /** Where none passes: the few parts that alone are in the way, if they are few, and what each lacks, mm. */
  readonly toMove?: readonly { readonly part: string; readonly by: number }[];
  readonly findings: readonly Finding[];
}

/** A way and what stands in it, as indices of parts. */
export interface JudgedWay extends Way {
  readonly motion: Motion;
  readonly stopped: readonly { readonly part: number; readonly lacking: number }[];
}

/** 2 where a way leads over hair pressed flat, 1 where only over the bare head, 0 where not even that. */
export function rankOf(way: Way, lacking: number): number {
  const bare = way.tooSmallBare > 0 ? way.tooSmallBare : -way.roomBare;
  if (bare > lacking) return 0;
  const pressed = way.tooSmallPressed;
  return pressed > Math.max(lacking, 0) ? 1 : 2;
}
