import { TubeLine } from "../../checks/beams/tubeLine";
import { atPart } from "../../checks/finding";
import type { Part } from "../../design/part";
import type { Vec3 } from "../../geometry/vector";
import type { PlacedPiece } from "../placedPiece";
import { toHeadFrame } from "../placedPiece";
import type { PlanFinding } from "../planFinding";
import type { Unproppable } from "./buildProps";
import type { PropPlan } from "./planProps";
import type { PropNeck } from "./strut";

/** So many lines of a design are written out for one part. */
const mostLines = 4;

/** What is to be said of props: those that are proposed, by part, with the lines to write; and what has none. */
export function propFindings(
  plan: Pick<PropPlan, "necks" | "unproppable" | "atRisk">,
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
      : `prop "${request.name}"${part ? ` under ${quote(part.name)}` : ""} finds no way to the plate that keeps clear of the piece`,
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

/** Places for which props were proposed in vain: their columns of support stay. One finding a part. */
function withoutWay(
  unproppable: readonly Unproppable[],
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
): PlanFinding[] {
  const byPart = grouped(
    unproppable.filter(({ request }) => request.isProposed),
    ({ contact }) => contact?.part ?? -1,
  );
  return [...byPart].map(([index, group]) => {
    const part = parts[index];
    const [first] = group;
    return {
      id: "no-prop",
      severity: "warning",
      topic: "props",
      text: `${group.length === 1 ? "a place" : `${group.length} places`} under ${nameOf(part)} cannot be propped: no strut gets to the plate with clearance from the piece, so thin supports stay there`,
      suggestion: "print the piece another way up, or give its supports there a brim",
      value: group.length,
      unit: "",
      at: toHeadFrame(placed, first.contact?.at ?? first.request.at),
      ...atPart(part),
    };
  });
}

/** One note a part, with the lines that ask for the same in the design. */
function proposals(
  necks: readonly PropNeck[],
  placed: Pick<PlacedPiece, "rotation" | "shift">,
  parts: readonly Part[],
): PlanFinding[] {
  return [...grouped(necks, ({ part }) => part)].map(([index, group]) => {
    const part = parts[index];
    const places = group.map(({ at }) => toHeadFrame(placed, at));
    const [many, hold] =
      group.length === 1 ? ["a prop", "holds"] : [`props with ${group.length} necks`, "hold"];
    return {
      id: "props-proposed",
      severity: "note",
      topic: "props",
      text: `${many} ${hold} up ${nameOf(part)} in place of thin supports`,
      suggestion: `print with the proposed props, or write ${linesFor(part, places).join(", ")}`,
      value: group.length,
      unit: "",
      at: places[0],
      ...atPart(part),
    };
  });
}

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

const quote = (name: string): string => JSON.stringify(name);
const nameOf = (part: Part | undefined): string => (part ? quote(part.name) : "the inner surface");
