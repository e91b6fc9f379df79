import type { Terminal } from "./terminal";

/** Exit codes of the command line. */
export const exitCodes = { good: 0, faulty: 1, wrongUse: 2, interrupted: 130 } as const;

/** An option of a command. */
export interface OptionSpec {
  /** What stands for its value in the help; absent: a switch. */
  readonly value?: string;
  readonly help: string;
  /** May be given several times. */
  readonly repeats?: boolean;
}

/** Values of options: `true` for a switch, a text, or the texts of one that repeats. */
export type OptionValues = Readonly<Record<string, string | boolean | readonly string[] | undefined>>;

/** One command of `anadem`: its file, its entry in the table of commands, and nothing else to change. */
export interface Command {
  readonly name: string;
  /** Name of what it works on, as the help shows it. */
  readonly operand: string;
  readonly summary: string;
  readonly options: Readonly<Record<string, OptionSpec>>;
  /** How many operands it takes; one unless given. */
  readonly operands?: "several" | "at most one";
  /**
   * Does the work and gives the exit code. Throws a `UsageError` on wrong use.
   * @param operand the first; empty where there is none
   * @param operands all of them
   */
  run(
    operand: string,
    options: OptionValues,
    terminal: Terminal,
    operands: readonly string[],
  ): Promise<number>;
}

/** Wrong use of the command line: told with a hint, and exit code 2. */
export class UsageError extends Error {
  readonly hint: string | undefined;

  constructor(text: string, hint?: string) {
    super(text);
    this.name = "UsageError";
    this.hint = hint;
  }
}
