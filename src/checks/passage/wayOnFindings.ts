import type { Part } from "../../design/part";
import type { Vec3 } from "../../geometry/vector";
import type { Limits } from "../../wearLimits";
import { atPart, type Finding, partNotes, quoted } from "../finding";
import type { WornPiece } from "../wornPiece";
import { mostRoom } from "./passageClearance";
import { type JudgedWay, rankOf, type WayOn } from "./wayOnResult";
import { openingInWords, wayInWords, wayName } from "./wayOnWords";

/** What is to be said of the way on. */
export function wayOnFindings(
  found: WayOn,
  ways: readonly JudgedWay[],
  entersAt: Vec3 | undefined,
  piece: WornPiece,
  limits: Limits,
): Finding[] {
  const way = ways[found.best];
  const rank = rankOf(way, limits.passageTight.value);
  const findings: Finding[] = [];
  if (rank === 0) findings.push(stoppedFinding(found, way, piece, limits));
  else if (rank === 1) findings.push(hairFinding(way, piece, limits));
  if (rank > 0) {
    const note = passingNote(way, limits);
    if (note) findings.push(note);
  }
  if (found.entersAtSeat > limits.entering.value) {
    findings.push({
      id: "way-on-from-skin",
      check: "wayOn",
      severity: "note",
      text: `at its seat it enters the bare head by ${millimetres(found.entersAtSeat)}: the way on is judged as if the head gave way there`,
      suggestion: "see to the gap first",
      value: found.entersAtSeat,
      unit: "mm",
      limit: { name: "entering", ...limits.entering },
      ...(entersAt && { at: entersAt }),
    });
  }
  return findings;
}

function stoppedFinding(found: WayOn, way: JudgedWay, piece: WornPiece, limits: Limits): Finding {
  const lacks = way.tooSmallBare > 0;
  const tight = lacks
    ? `the tightest passage over the bare head is ${millimetres(way.tooSmallBare)} too small ${way.place}`
    : `the tightest passage over the bare head has ${millimetres(way.roomBare)} to spare ${way.place}`;
  return {
    ...common(way, piece, limits, lacks ? way.tooSmallBare : -way.roomBare),
    id: "cannot-be-put-on",
    severity: "error",
    text: `it cannot be put on: ${tight}, at best ${wayName(way)}`,
    suggestion: remedy(found, way),
  };
}

/** So many parts are told to be moved; where more are in the way the piece is too small as a whole. */
const fewNamed = 3;

const hairFinding = (way: JudgedWay, piece: WornPiece, limits: Limits): Finding => ({
  ...common(way, piece, limits, way.tooSmallPressed),
  id: "tight-over-hair",
  severity: "warning",
  text: `over hair pressed flat the tightest passage is ${millimetres(way.tooSmallPressed)} too small ${way.place}, at best ${wayName(way)}; the bare head gets through`,
  suggestion:
    way.parts.length > 0 && way.parts.length <= fewNamed
      ? `move ${quoted(way.parts)} ${Math.ceil(way.tooSmallPressed)} mm off the head there, or lay the hair flatter`
      : `give the piece ${Math.ceil(way.tooSmallPressed)} mm more ease (offset), or lay the hair flatter`,
});

function passingNote(way: JudgedWay, limits: Limits): Finding | undefined {
  const base = {
    check: "wayOn" as const,
    severity: "note" as const,
    value: way.roomBare,
    unit: "mm",
    limit: { name: "passageTight" as const, ...limits.passageTight },
    at: way.tightestAt,
  };
  if (way.kind !== "straight") {
    return {
      ...base,
      id: "way-on",
      text: `it does not go straight down: ${wayInWords(way)}`,
      suggestion: "show it to whoever dresses the wearer; the preview plays it",
    };
  }
  if (way.roomBare < mostRoom) return undefined;
  return {
    ...base,
    id: "way-on-free",
    text: `nothing of the head is in its way: more than ${mostRoom} mm of room to every side`,
    suggestion: "nothing is to be done, unless it was meant to sit on the head",
  };
}

/** A piece that lacks no more than this is one to make a little larger, mm. */
const little = 3;

function remedy({ opening, toMove }: WayOn, { tooSmallBare }: JudgedWay): string {
  const ways: string[] = [];
  if (tooSmallBare > 0 && tooSmallBare <= little) {
    ways.push(`give the piece ${Math.ceil(tooSmallBare)} mm more ease (offset)`);
  }
  if (toMove && toMove.length > 0) {
    const by = toMove.map(({ part, by: mm }) => `"${part}" by ${Math.ceil(mm)} mm`);
    ways.push(
      `move ${by.length < 2 ? by.join("") : `${by.slice(0, -1).join(", ")} and ${by.at(-1)}`} off the head`,
    );
  }
  if (opening) ways.push(openingInWords(opening));
  if (ways.length > 0) return ways.join(", or ");
  return "no opening of one side helps: let it end higher on the head, or make it of two parts that are joined on the head";
}

function common(
  way: JudgedWay,
  piece: WornPiece,
  limits: Limits,
  value: number,
): Pick<Finding, "check" | "value" | "unit" | "limit" | "at"> &
  ReturnType<typeof atPart> &
  Pick<Finding, "notes"> {
  const [first, ...others] = way.stopped.map(({ part }): Part => piece.parts[part]);
  const lacking = new Map(way.stopped.map(({ part, lacking: mm }) => [piece.parts[part], mm]));
  return {
    check: "wayOn",
    value,
    unit: "mm",
    limit: { name: "passageTight", ...limits.passageTight },
    at: way.tightestAt,
    ...atPart(first),
    ...(others.length > 0 && {
      notes: partNotes(
        others,
        (part) => `"${part.name}" is ${millimetres(lacking.get(part) ?? 0)} in the way too`,
      ),
    }),
  };
}

const millimetres = (value: number): string => `${value.toFixed(1)} mm`;
