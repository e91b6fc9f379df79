import type { Message } from "../../message";
import type { FindingMark } from "../pieceView";
import type { PartFacts, WearMark } from "../protocol";

/** The place after `at` in a list of `count`, going round; from nowhere (−1) to the first or the last. */
export function stepped(at: number, by: 1 | -1, count: number): number {
  if (count === 0) return -1;
  if (at < 0) return by > 0 ? 0 : count - 1;
  return (at + by + count) % count;
}

/** Index of the part that a message is about, −1 where it names none. */
export const partOf = ({ part }: Message, parts: readonly PartFacts[]): number => partNamed(part, parts);

/** Index of the part of that name, −1 where there is none. */
export const partNamed = (name: string | undefined, parts: readonly PartFacts[]): number =>
  name === undefined ? -1 : parts.findIndex((part) => part.name === name);

/**
 * All marks of the picture: of findings about a part, and of fit and wear or of the print. What both tell is marked once, at the place
 * that the second knows.
 */
export function marksOf(
  findings: readonly Message[],
  wear: readonly Omit<WearMark, "check">[],
  parts: readonly PartFacts[],
): FindingMark[] {
  const left = new Set(wear);
  const marks = findings.flatMap((finding): FindingMark[] => {
    const part = partOf(finding, parts);
    const placed = wear.find(
      (mark) => left.has(mark) && mark.text === finding.text && mark.part === finding.part,
    );
    if (placed) left.delete(placed);
    if (part < 0 && !placed) return [];
    const mark = { part, severity: finding.severity, text: finding.text };
    return [placed ? { ...mark, at: placed.at, ...(placed.place && { place: placed.place }) } : mark];
  });
  return [
    ...marks,
    ...[...left].map(({ at, severity, text, part, place }) => ({
      part: partNamed(part, parts),
      severity,
      text,
      at,
      ...(place && { place }),
    })),
  ];
}

/** The findings that none of these marks tells of: they belong to another picture. */
export const withoutMarked = (
  findings: readonly Message[],
  marks: readonly Pick<WearMark, "text" | "part">[],
): readonly Message[] => {
  const told = new Set(marks.map(({ text, part }) => JSON.stringify([text, part])));
  return findings.filter(({ text, part }) => !told.has(JSON.stringify([text, part])));
};

/** The finding that a mark stands for. */
export const findingOf = (
  mark: FindingMark,
  findings: readonly Message[],
  parts: readonly PartFacts[],
): Message | undefined =>
  findings.find((finding) => finding.text === mark.text && partOf(finding, parts) === mark.part);
