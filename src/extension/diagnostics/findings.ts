import type { Message, Place, Severity } from "../../message";
import { extentAt } from "../callExtent";
import { offsetAt, placeAt } from "../textPlaces";

/** A stretch of a file; lines and characters count from 0, as in the editor. */
export interface Stretch {
  readonly startLine: number;
  readonly startCharacter: number;
  readonly endLine: number;
  readonly endCharacter: number;
}

/** A message as the editor shows it. */
export interface Finding {
  readonly file: string;
  readonly stretch: Stretch;
  readonly severity: Severity;
  readonly id: string;
  /** What is wrong and, on a line of its own, what would be right. */
  readonly text: string;
  readonly related: readonly { readonly file: string; readonly stretch: Stretch; readonly text: string }[];
  readonly message: Message;
}

/** A note that is about no place, such as crumbs that were dropped, is told in the preview and the report only. */
export const isProblem = ({ severity, file }: Message): boolean => severity !== "note" || file !== undefined;

/** The text of a file where it is at hand: only then the extent of a call can be found. */
export type TextOf = (file: string) => string | undefined;

/** What is shown of a message. One without a file lands on the first line of the design. */
export function findingOf(message: Message, design: string, textOf: TextOf): Finding {
  const { id, severity, text, suggestion, notes = [] } = message;
  const file = message.file ?? design;
  const placed = notes.filter((note): note is Place & { text: string } => note.file !== undefined);
  const unplaced = notes.filter((note) => note.file === undefined).map((note) => note.text);
  return {
    file,
    stretch: stretchOf(message, textOf(file)),
    severity,
    id,
    text: [text, ...(suggestion ? [suggestion] : []), ...unplaced].join("\n"),
    related: placed.map((note) => ({
      file: note.file,
      stretch: stretchOf(note, textOf(note.file)),
      text: note.text,
    })),
    message,
  };
}

/**
 * The stretch of a place: of its length, else of the call or word that stands there. Without the text it is empty,
 * which an editor widens to the word when it shows it.
 */
export function stretchOf(
  { line = 1, column = 1, length }: Partial<Place>,
  text: string | undefined,
): Stretch {
  const start = { startLine: line - 1, startCharacter: column - 1 };
  if (length !== undefined) return { ...start, endLine: line - 1, endCharacter: column - 1 + length };
  if (text === undefined) return { ...start, endLine: line - 1, endCharacter: column - 1 };
  const end = placeAt(text, extentAt(text, offsetAt(text, line, column)).end);
  return { ...start, endLine: end.line - 1, endCharacter: end.column - 1 };
}
