import { TubeLine } from "../../checks/beams/tubeLine";
import { atPart, byLine, quoted } from "../../checks/finding";
import type { Part } from "../../design/part";
import type { Vec3 } from "../../geometry/vector";
import type { PlacedPiece } from "../placedPiece";
import { toHeadFrame } from "../placedPiece";
import type { PlanFinding } from "../planFinding";
import type { BuiltProps, Unproppable } from "./buildProps";
import type { PropNeck } from "./strut";

/** So many lines of a design are written out for one part. */
const mostLines = 3;

/** What is to be said of props: those that are proposed, by part, with the lines to write; and what has none. */
export function propFindings(
  plan: Pick<BuiltProps, "necks" | "unproppable">,
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
  proposed: ReadonlySet<string>,
): PlanFinding[] {
  return [
    ...plan.unproppable
      .filter(({ request }) => !request.isProposed)
      .map((one) => unproppedFinding(one, placed, parts)),
    ...withoutWay(plan.unproppable, placed, parts),
    ...proposals(
      plan.necks.filter(({ name }) => proposed.has(name)),
      placed,
      parts,
    ),
  ];
}

/** A prop of the design that could not be built. */
function unproppedFinding(
  { request, reason, contact }: Unproppable,
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
): PlanFinding {
  const far = reason === "far from the piece";
  const part = contact && parts[contact.part];
  return {
    id: far ? "prop-holds-nothing" : "prop-has-no-way",
    severity: "warning",
    topic: "props",
    text: far
      ? `prop "${request.name}" is more than 10 mm from the piece`
      : `prop "${request.name}"${part ? ` under ${quoted([part.name])}` : ""} finds no way down that keeps clear of the piece`,
    suggestion: far
      ? "give a place on the piece, for example tube.at(0.9)"
      : "move it to a place that looks down on the plate, or print the piece another way up",
    value: request.at[2],
    unit: "mm",
    at: toHeadFrame(placed, contact?.at ?? request.at),
    ...(part && { part: part.name }),
    ...request.origin,
  };
}

/** Places for which props were proposed in vain: their columns of support stay. One finding a line of the design. */
function withoutWay(
  unproppable: readonly Unproppable[],
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
): PlanFinding[] {
  const proposed = unproppable.filter(({ request }) => request.isProposed);
  return groupedByLine(proposed, ({ contact }) => contact?.part ?? -1, parts).map(({ items, named }) => {
    const [first] = items;
    return {
      id: "no-prop",
      severity: "warning",
      topic: "props",
      text: `${items.length === 1 ? "a place" : `${items.length} places`} under ${namesOf(named)} cannot be propped: no strut gets down with clearance from the piece, so thin supports stay there`,
      suggestion: "print the piece another way up, or give its supports there a brim",
      value: items.length,
      unit: "",
      at: toHeadFrame(placed, first.contact?.at ?? first.request.at),
      ...atPart(named[0]),
    };
  });
}

/** One note a line of the design, with the calls that ask for the same there. */
function proposals(
  necks: readonly PropNeck[],
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
): PlanFinding[] {
  return groupedByLine(necks, ({ part }) => part, parts).map(({ items, named }) => {
    const [many, hold] =
      items.length === 1 ? ["a prop", "holds"] : [`props with ${items.length} necks`, "hold"];
    const own = items.filter(({ part }) => parts[part] === named[0]);
    const places = own.map(({ at }) => toHeadFrame(placed, at));
    return {
      id: "props-proposed",
      severity: "note",
      topic: "props",
      text: `${many} ${hold} up ${namesOf(named)} in place of thin supports`,
      suggestion: `print with the proposed props, or write ${linesFor(named[0], places).join(", ")}`,
      value: items.length,
      unit: "",
      at: places[0],
      ...atPart(named[0]),
    };
  });
}

/** What belongs to parts that one line of the design made, with those parts, the one with most first. */
function groupedByLine<T>(
  items: readonly T[],
  partOf: (item: T) => number,
  parts: readonly Part[],
): { items: T[]; named: Part[] }[] {
  const byPart = [...grouped(items, partOf)].map(([index, group]) => ({ part: parts[index], group }));
  return byLine(byPart, ({ part }) => part).map((alike) => {
    alike.sort((one, other) => other.group.length - one.group.length);
    return {
      items: alike.flatMap(({ group }) => group),
      named: alike.flatMap(({ part }) => part ?? []),
    };
  });
}

const namesOf = (parts: readonly Part[]): string =>
  parts.length === 0 ? "the inner surface" : quoted(parts.map(({ name }) => name));

/** The calls that ask for props at places, head frame: on the tube's path where the part is a tube. */
function linesFor(part: Part | undefined, places: readonly Vec3[]): string[] {
  const name = part?.name ?? "the piece";
  const placeOf = part?.kind === "tube" ? onPath(part.name, new TubeLine(part.shape)) : inSpace;
  const written = new Set<string>();
  for (const place of places) written.add(placeOf(place));
  const shown = [...written].slice(0, mostLines);
  const lines = shown.map((place, i) => {
    const number = written.size > 1 ? ` ${i + 1}` : "";
    return `prop(${JSON.stringify(`under ${name}${number}`)}, ${place})`;
  });
  return written.size > mostLines ? [...lines, `and ${written.size - mostLines} more`] : lines;
}

/** A tube in the design has a name of its own there, which is not known: that of the part stands for it. */
function onPath(name: string, line: TubeLine): (place: Vec3) => string {
  const called = /^[A-Za-z_$][\w$]*$/.test(name) ? name : "tube";
  return (place) => {
    const share = line.positionOf(line.nearest(...place), place) / line.length;
    return `${called}.at(${Math.min(1, Math.max(0, share)).toFixed(2)})`;
  };
}

const inSpace = (place: Vec3): string => `[${place.map((value) => value.toFixed(1)).join(", ")}]`;

function grouped<T>(items: readonly T[], partOf: (item: T) => number): Map<number, T[]> {
  const groups = new Map<number, T[]>();
  for (const item of items) {
    const group = groups.get(partOf(item));
    if (group) group.push(item);
    else groups.set(partOf(item), [item]);
  }
  return groups;
}
