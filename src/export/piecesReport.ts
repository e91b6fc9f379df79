import type { Part } from "../design/part";
import type { AssemblyStep, PiecePlan } from "../print/cuts/piecePlan";
import { rounded } from "./rounding";

/** The pieces into which a headpiece is cut, as a report has them. */
export interface ReportPieces {
  readonly pieces: readonly {
    readonly name: string;
    readonly sizeMm: readonly number[];
    readonly volumeCm3: number;
    /** Counted from 1. */
    readonly plate: number;
    readonly fits: boolean;
    readonly parts: readonly string[];
  }[];
  readonly joints: readonly {
    readonly between: readonly [string, string];
    readonly kind: "pin" | "glue";
    /** Width, depth and length of the pin. */
    readonly keyMm?: readonly number[];
    readonly areaCm2: number;
    readonly clearanceMm: number;
    readonly through: readonly string[];
  }[];
  /** In the order in which they are joined. */
  readonly assembly: readonly string[];
  /** Pieces = whole + pegs − sockets. */
  readonly wholeCm3: number;
  readonly piecesCm3: number;
  readonly pegsCm3: number;
  readonly socketsCm3: number;
}

/** So many parts of a piece are named. */
const mostParts = 6;

/** What a report says of pieces. */
export function composePieces(plan: PiecePlan, parts: readonly Part[]): ReportPieces {
  const { pieces, joints, volumes } = plan;
  const named = (indices: readonly number[]) => indices.flatMap((part) => parts[part]?.name ?? []);
  const cm3 = (volume: number) => rounded(volume / 1000, 3);
  return {
    pieces: pieces.map(({ name, size, volume, plate, fits, parts: own }) => ({
      name,
      sizeMm: size.map((extent) => rounded(extent, 1)),
      volumeCm3: cm3(volume),
      plate: plate + 1,
      fits,
      parts: named(own).slice(0, mostParts),
    })),
    joints: joints.map(({ pieces: [peg, socket], kind, key, area, clearance, parts: through }) => ({
      between: [pieces[peg].letter, pieces[socket].letter],
      kind,
      ...(key && { keyMm: [2 * key.a, 2 * key.b, key.length].map((extent) => rounded(extent, 1)) }),
      areaCm2: rounded(area / 100, 2),
      clearanceMm: rounded(clearance, 2),
      through: named(through),
    })),
    assembly: plan.assembly.map((step) => assemblySentence(step, plan)),
    wholeCm3: cm3(volumes.whole),
    piecesCm3: cm3(volumes.pieces),
    pegsCm3: cm3(volumes.pegs),
    socketsCm3: cm3(volumes.sockets),
  };
}

/** A step of assembly: `push B on A from the left, pin "D 6"`. */
function assemblySentence({ piece, to, joints, direction, isFlexed }: AssemblyStep, plan: PiecePlan): string {
  const letters = to.map((index) => plan.pieces[index].letter).join(" and ");
  const kinds = new Set(joints.map((joint) => plan.joints[joint].kind));
  const glue = kinds.has("pin") ? "glue its faces and pins" : "by glue alone: hold it until it sets";
  const flexed = isFlexed ? "; its joints point different ways: flex it gently" : "";
  return `${plan.pieces[piece].name}: push it on ${letters}, ${wayOf(direction)}; ${glue}${flexed}`;
}

/** A direction of the head frame in words, by its greatest component. */
function wayOf(direction: AssemblyStep["direction"]): string {
  const axis = [0, 1, 2].reduce((most, i) => (Math.abs(direction[i]) > Math.abs(direction[most]) ? i : most));
  const words = [
    ["towards the left", "towards the right"],
    ["backwards", "forwards"],
    ["downwards", "upwards"],
  ];
  return words[axis][direction[axis] > 0 ? 1 : 0];
}
