import type { Message } from "../../message";
import type { FindingMark } from "../pieceView";
import type { PartFacts } from "../protocol";

/** The place after `at` in a list of `count`, going round; from nowhere (−1) to the first or the last. */
export function stepped(at: number, by: 1 | -1, count: number): number {
  if (count === 0) return -1;
  if (at < 0) return by > 0 ? 0 : count - 1;
  return (at + by + count) % count;
}

/** Index of the part that a message is about, −1 where it names none. */
export const partOf = (message: Message, parts: readonly PartFacts[]): number =>
  message.part === undefined ? -1 : parts.findIndex((part) => part.name === message.part);

/** The findings that can be marked on the piece: those that are about a part of it. */
export const marksOf = (findings: readonly Message[], parts: readonly PartFacts[]): FindingMark[] =>
  findings.flatMap((finding) => {
    const part = partOf(finding, parts);
    return part < 0 ? [] : [{ part, severity: finding.severity, text: finding.text }];
  });

/** The finding that a mark stands for. */
export const findingOf = (
  mark: FindingMark,
  findings: readonly Message[],
  parts: readonly PartFacts[],
): Message | undefined =>
  findings.find((finding) => finding.text === mark.text && partOf(finding, parts) === mark.part);
