import type { Message, Severity } from "../../message";
import type { Report } from "../report";
import { counted } from "../reportSentences";
import { type ReportChange, wordChange } from "./reportChange";

const severities: readonly Severity[] = ["error", "warning", "note"];

/**
 * Findings and messages that came or went, a change for each kind, the gravest first. Which finding is which goes by its
 * kind, gravity and part. Its number may have changed without it being another one, and so may the part that stands for
 * several of one line: only what is more or fewer of a kind is told.
 */
export function findingChanges(before: Report, after: Report): ReportChange[] {
  const [was, is] = [byKind(before), byKind(after)];
  const came = [...is].filter(([kind]) => !was.has(kind)).map(([, found]) => found);
  const gone = [...was].filter(([kind]) => !is.has(kind)).map(([, found]) => found);
  return severities.flatMap((severity) => [
    ...told(surplus(came, gone), severity, (text, message) =>
      wordChange(keyOf(message), message.id, undefined, message.text, `new ${severity}: ${text}`),
    ),
    ...told(surplus(gone, came), severity, (text, message) =>
      wordChange(keyOf(message), message.id, message.text, undefined, `no longer: ${text}`),
    ),
  ]);
}

/** What is left of some messages when one of the same kind is taken away for each of others. */
function surplus(messages: readonly Message[], others: readonly Message[]): Message[] {
  const kind = ({ severity, id }: Message) => `${severity} ${id}`;
  const left = new Map<string, number>();
  for (const other of others) left.set(kind(other), (left.get(kind(other)) ?? 0) + 1);
  return messages.filter((message) => {
    const count = left.get(kind(message)) ?? 0;
    if (count > 0) left.set(kind(message), count - 1);
    return count === 0;
  });
}

const keyOf = ({ id }: Message): string => `findings.${id}`;

/** One change for all findings of a gravity and an id. */
function told(
  messages: readonly Message[],
  severity: Severity,
  change: (text: string, message: Message) => ReportChange,
): ReportChange[] {
  const groups = new Map<string, Message[]>();
  for (const message of messages) {
    if (message.severity === severity) groups.set(message.id, [...(groups.get(message.id) ?? []), message]);
  }
  return [...groups.values()].map((group) => {
    const [first] = group;
    const more = group.length > 1 ? `, and ${counted(group.length - 1, "more", "more")} like it` : "";
    return change(`${first.text}${more}`, first);
  });
}

function byKind(report: Report): Map<string, Message> {
  const all: readonly Message[] = [
    ...(report.wear?.findings ?? []),
    ...(report.plan?.findings ?? []),
    ...(report.messages ?? []),
  ];
  return new Map(
    all.map((message) => [[message.severity, message.id, message.part ?? ""].join("\n"), message]),
  );
}
