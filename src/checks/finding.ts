import type { Part } from "../design/part";
import type { Vec3 } from "../geometry/vector";
import type { Message } from "../message";
import type { LimitName } from "../wearLimits";

/** The questions about fit and wear, in the order in which they are answered and read. */
export const checkNames = [
  "gap",
  "wayOn",
  "stayOn",
  "sureness",
  "weight",
  "sight",
  "sharp",
  "strength",
  "heat",
] as const;
export type CheckName = (typeof checkNames)[number];

/**
 * What a check found, at the line of the part that causes it. As everywhere, `error` keeps the piece off the head
 * (*don't*), `warning` asks for a change (*adjust*), `note` only tells. It does not stop a build: the solid is good.
 */
export interface Finding extends Message {
  readonly check: CheckName;
  /** The number that was found, in `unit`. */
  readonly value: number;
  readonly unit: string;
  /** What it was held against. */
  readonly limit?: {
    readonly name: LimitName;
    /** In the finding's unit. */
    readonly value: number;
    /** A published source, or `common practice, no source`; where it was set, by whom. */
    readonly source: string;
  };
  /** Where on the piece, mm, head frame. */
  readonly at?: Vec3;
}

/** The part that a finding is about, as a message names it: its name and the line that made it. */
export const atPart = (
  part: Part | undefined,
): Pick<Message, "part" | "file" | "line" | "column" | "length"> =>
  part ? { part: part.name, ...part.origin } : {};

/** Other parts that share in a finding, each with its line, as notes; at most `most`. */
export const partNotes = (
  parts: readonly Part[],
  text: (part: Part) => string,
  most = 6,
): NonNullable<Message["notes"]> =>
  parts.slice(0, most).map((part) => ({ text: text(part), ...part.origin }));

/** What is alike about parts that one line of the design made, in the order of their first. */
export function byLine<T>(items: readonly T[], partOf: (item: T) => Part | undefined): T[][] {
  const groups = new Map<string, T[]>();
  for (const item of items) {
    const origin = partOf(item)?.origin;
    const key = origin ? `${origin.file}:${origin.line}:${origin.column}` : `own ${groups.size}`;
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return [...groups.values()];
}

/** Of what was joined, so much is told one by one. */
const mostJoined = 6;

/**
 * Findings of one kind about parts that one line of the design made as one: the gravest, which comes first, with what
 * is said of the others as its notes.
 */
export function joinedByLine(findings: readonly Finding[]): Finding[] {
  const groups = new Map<string, Finding[]>();
  for (const finding of findings) {
    const { id, severity, file, line, column } = finding;
    const key = file === undefined ? `own ${groups.size}` : [id, severity, file, line, column].join("\n");
    const group = groups.get(key);
    if (group) group.push(finding);
    else groups.set(key, [finding]);
  }
  return [...groups.values()].map(([first, ...others]) => {
    if (others.length === 0) return first;
    const notes = others.slice(0, mostJoined).map(({ text }) => ({ text }));
    if (others.length > mostJoined) notes.push({ text: `and ${others.length - mostJoined} more` });
    return {
      ...first,
      text: `${first.text}; and ${others.length} more like it from this line`,
      notes: [...(first.notes ?? []), ...notes],
    };
  });
}

/** Names in quotation marks, as a sentence has them; the first of many. */
export function quoted(names: readonly string[], most = 4): string {
  const shown = names.slice(0, names.length > most ? most - 1 : most).map((name) => `"${name}"`);
  if (names.length > most) shown.push(`${names.length - most + 1} more`);
  return shown.length < 2 ? shown.join("") : `${shown.slice(0, -1).join(", ")} and ${shown.at(-1)}`;
}
