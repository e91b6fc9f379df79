import type { Vec3 } from "../../geometry/vector";
import type { Finding } from "../finding";
import type { HeadSide } from "../wornHead";
import type { Nod } from "./nods";
import type { Aid } from "./stayOnAids";

/** A place where the piece rests on the head. */
export interface StayOnContact {
  /** mm, on the piece as designed. */
  readonly at: Vec3;
  readonly side: HeadSide;
  /** Name of the part that rests there; empty where nobody made it. */
  readonly part: string;
  /** Force upright to the head, head level, N. */
  readonly normal: number;
  /** Share of the weight that it carries, head level; together 1 when the piece is in balance. */
  readonly share: number;
}

/** How far the head tilts before the piece gives way. */
export interface NodAngle {
  /** 0 to 90. */
  readonly degrees: number;
  /** `slides`: more friction would hold it; `tips`: none would; `holds`: to 90° it does not give way. */
  readonly how: "tips" | "slides" | "holds";
}

/** *Does it stay on?* */
export interface StayOn {
  /** It comes to rest near where it is designed. */
  readonly rests: boolean;
  /** From where it is designed to where it rests: shift of its centre of mass, mm; turn as a rotation vector, degrees. */
  readonly settled: {
    readonly translation: Vec3;
    readonly rotation: Vec3;
    /** How far the surface that faces the head moves, at most, mm. */
    readonly travel: number;
  };
  readonly contacts: readonly StayOnContact[];
  /** In balance on a level head. */
  readonly inBalance: boolean;
  readonly angles: Readonly<Record<Nod, NodAngle>>;
  /** Coefficient of friction. */
  readonly friction: number;
  /** What would help best, where it does not hold as far as it should. */
  readonly aids: readonly Aid[];
  /** What is not in these numbers, as a sentence. */
  readonly caveat: string;
  readonly findings: readonly Finding[];
}
