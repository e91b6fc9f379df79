/**
 * What the tool says about a design or a file, in one shape that flows unchanged from the engine to
 * the command line, to JSON and to an editor.
 */

/** `error` stops the build, `warning` asks for a look, `note` only tells. */
export type Severity = "error" | "warning" | "note";

/** A place in a source file. Line and column count from 1. */
export interface Place {
  readonly file: string;
  readonly line: number;
  readonly column: number;
  /** Characters from the column that the place covers, where known. */
  readonly length?: number;
}

export interface Message extends Partial<Place> {
  /** Stable kebab-case name of the kind of message, for example `loose-piece`. */
  readonly id: string;
  readonly severity: Severity;
  /** One sentence: what is wrong, with the value in it. */
  readonly text: string;
  /** What would be right, or what to do. */
  readonly suggestion?: string;
  /** The part of the headpiece it is about. */
  readonly part?: string;
  /** The field of a data file it is about, as a dotted path. */
  readonly field?: string;
  /** Further sentences, each with a place where there is one. */
  readonly notes?: readonly (Partial<Place> & { readonly text: string })[];
}

/** An error that carries messages for the person instead of a stack for the programmer. */
export class MessageError extends Error {
  readonly messages: readonly Message[];

  constructor(messages: readonly Message[]) {
    super(messages.map((message) => message.text).join("\n"));
    this.name = "MessageError";
    this.messages = messages;
  }
}
