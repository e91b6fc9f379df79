import type { PartMesh } from "../../geometry/mesh";
import type { Vec3 } from "../../geometry/vector";
import type { Orientation } from "../../orientation";
import type { PlanFinding } from "../planFinding";
import type { Key } from "./keys";

/** A headpiece in pieces that fit the printer: what each is, how they are joined, and how they lie on plates. */
export interface PiecePlan {
  /** The largest first; one piece where nothing is cut. */
  readonly pieces: readonly PlannedPiece[];
  readonly joints: readonly PieceJoint[];
  /** In the order in which pieces are joined; empty for one piece. */
  readonly assembly: readonly AssemblyStep[];
  readonly plates: readonly PackedPlate[];
  readonly volumes: PieceVolumes;
  readonly findings: readonly PlanFinding[];
}

/** Where volume goes when a piece is cut, mm³: pieces = whole + pegs − sockets, save for rounding. */
export interface PieceVolumes {
  readonly whole: number;
  /** All pieces as they are printed. */
  readonly pieces: number;
  /** What pegs stick out of cut faces, and what sockets take. */
  readonly pegs: number;
  readonly sockets: number;
}

export interface PlannedPiece {
  /** A, B, C … */
  readonly letter: string;
  /** Its letter and where it lies, for example "A, left front". */
  readonly name: string;
  /** Closed, head frame; triangles of cut faces and pins have no part (−1). */
  readonly mesh: PartMesh;
  /** Indices of the parts that it has surface of, the one with most first. */
  readonly parts: readonly number[];
  /** mm³ */
  readonly volume: number;
  /** Extents as it lies on its plate, mm. */
  readonly size: Vec3;
  readonly orientation: Orientation;
  /** Whether it fits the build volume. */
  readonly fits: boolean;
  /** Index of its plate. */
  readonly plate: number;
}

/** Two pieces that meet at a cut face. */
export interface PieceJoint {
  /** Indices of the piece with the peg and of the one with the socket; in a joint by glue alone, the larger piece first. */
  readonly pieces: readonly [peg: number, socket: number];
  /** A joint without a pin holds by glue alone. */
  readonly kind: "pin" | "glue";
  readonly key?: Key;
  /** Whether no other peg fits its socket and its peg fits no other socket. */
  readonly isUnique: boolean;
  /** Middle of the pin at the face, or of the face, mm, head frame. */
  readonly at: Vec3;
  /** Unit vector along the pin, from peg to socket. */
  readonly direction: Vec3;
  /** Area of the cut face, mm². */
  readonly area: number;
  /** Room round the peg on each side, mm. */
  readonly clearance: number;
  /** Parts that the cut goes through. */
  readonly parts: readonly number[];
  /** mm³ */
  readonly pegVolume: number;
  readonly socketVolume: number;
}

/** One step of putting the pieces together. */
export interface AssemblyStep {
  readonly piece: number;
  /** Pieces in place that it is joined to, and by which joints. */
  readonly to: readonly number[];
  readonly joints: readonly number[];
  /** Unit vector along which the piece is pushed on, head frame. */
  readonly direction: Vec3;
  /** Its joints point different ways: it goes on only if it is flexed. */
  readonly isFlexed: boolean;
}

export interface PackedPlate {
  readonly pieces: readonly PiecePlacing[];
}

/** Where a piece lies: a point p of the head frame goes to rotation · p + shift in the plate's frame. */
export interface PiecePlacing {
  readonly piece: number;
  readonly orientation: Orientation;
  readonly rotation: readonly number[];
  readonly shift: Vec3;
}
