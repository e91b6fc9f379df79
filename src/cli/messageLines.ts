import { relative } from "node:path";
import type { createColors } from "picocolors";
import type { Message, Place, Severity } from "../message";

type Colours = ReturnType<typeof createColors>;

/** A message as lines for the error stream: the message, its notes, its hint. */
export function messageLines(message: Message, folder: string, colours: Colours): string[] {
  const paint: Record<Severity, (text: string) => string> = {
    error: colours.red,
    warning: colours.yellow,
    note: colours.cyan,
  };
  const { severity, text, suggestion, notes = [] } = message;
  return [
    `${placeText(message, folder)}${paint[severity](`${severity}:`)} ${oneLine(text)}`,
    ...notes.map((note) => `  ${placeText(note, folder)}${colours.dim("note:")} ${oneLine(note.text)}`),
    ...(suggestion ? [`  ${colours.dim("hint:")} ${oneLine(suggestion)}`] : []),
  ];
}

/** `file:line:column: `, as much of it as is known. */
function placeText({ file, line, column }: Partial<Place>, folder: string): string {
  if (file === undefined) return "";
  const shown = relative(folder, file);
  const near = shown !== "" && !shown.startsWith("..") ? shown : file;
  return `${[near, line, column].filter((part) => part !== undefined).join(":")}: `;
}

const oneLine = (text: string): string => text.replace(/\s*\n\s*/g, " ");
