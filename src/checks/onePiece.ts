import type { Part } from "../design/part";
import type { FinishedMesh } from "../geometry/solid/finish";
import type { Message } from "../message";

/** What was found of the pieces of the result; bodies are indices into the list of parts. */
export type PieceFindings = Omit<FinishedMesh, "mesh">;

/** Answers *is it one printable solid?*: loose pieces, parts that vanish, voids and crumbs. */
export function checkOnePiece(
  found: PieceFindings,
  parts: readonly Part[],
  isInsideHead: (part: Part) => boolean,
): Message[] {
  return [
    ...found.pieces.slice(1).map((piece) => loosePiece(piece, parts)),
    ...found.lost.map((body) => lostPart(parts[body])),
    ...found.hidden.map((body) => hiddenPart(parts[body], isInsideHead(parts[body]))),
    ...voidNotes(found),
    ...crumbNotes(found),
  ];
}

function loosePiece(
  { volume, bodies }: { volume: number; bodies: readonly number[] },
  parts: readonly Part[],
): Message {
  const [first, ...others] = bodies.map((body) => parts[body]);
  const names = bodies.map((body) => `"${parts[body].name}"`);
  return {
    id: "loose-piece",
    severity: "error",
    text: `${listed(names)} ${names.length > 1 ? "stand" : "stands"} apart from the piece (${cubicCentimetres(volume)})`,
    suggestion: `let it reach another part, for example with endTip: { into: … }, or leave it out`,
    part: first?.name,
    ...first?.origin,
    notes: others.map((part) => ({ text: `"${part.name}" is part of the loose piece`, ...part.origin })),
  };
}

const lostPart = (part: Part): Message => ({
  id: "loose-piece",
  severity: "error",
  text: `"${part.name}" is a loose speck: what is left of it touches nothing`,
  suggestion: "move it on to another part, make it larger, or leave it out",
  part: part.name,
  ...part.origin,
});

function hiddenPart(part: Part, insideHead: boolean): Message {
  const base = { part: part.name, ...part.origin };
  if (insideHead) {
    return {
      id: "inside-head",
      severity: "error",
      text: `"${part.name}" lies wholly inside the head and is hollowed away`,
      suggestion: "lift it off the head: give its points a lift, or raise it with lifted(…)",
      ...base,
    };
  }
  return {
    id: "swallowed",
    severity: "warning",
    text: `"${part.name}" lies wholly inside other parts and adds nothing`,
    suggestion: "move it out, or leave it out",
    ...base,
  };
}

function voidNotes({ voids, filled }: PieceFindings): Message[] {
  const notes: Message[] = voids.map(({ volume, at }) => ({
    id: "closed-void",
    severity: "warning",
    text: `an empty space of ${cubicCentimetres(volume)} is closed in at ${at.map((x) => Math.round(x)).join(", ")} mm`,
    suggestion: "fill it with a thicker part, or open it; a hollow tube has drain for this",
  }));
  if (filled.count > 0) {
    notes.push({
      id: "filled-voids",
      severity: "note",
      text: `${counted(filled.count, "closed-in speck of air was", "closed-in specks of air were")} filled (${filled.volume.toFixed(2)} mm³ in all)`,
    });
  }
  return notes;
}

const crumbNotes = ({ crumbs }: PieceFindings): Message[] =>
  crumbs.count === 0
    ? []
    : [
        {
          id: "crumbs",
          severity: "note",
          text: `${counted(crumbs.count, "crumb was", "crumbs were")} dropped (${crumbs.volume.toFixed(2)} mm³ in all)`,
        },
      ];

const counted = (n: number, one: string, many: string): string => `${n} ${n === 1 ? one : many}`;

const cubicCentimetres = (mm3: number): string => `${(mm3 / 1000).toFixed(mm3 < 1000 ? 3 : 1)} cm³`;

function listed(names: readonly string[]): string {
  if (names.length <= 4) return names.join(", ");
  return `${names.slice(0, 3).join(", ")} and ${names.length - 3} more`;
}
