import { createColors } from "picocolors";
import type { Message } from "../message";
import { messageLines } from "./messageLines";

/** Where a command speaks: standard output for what was asked for, the error stream for all else. */
export class Terminal {
  readonly #out: NodeJS.WriteStream;
  readonly #err: NodeJS.WriteStream;
  readonly colourOut: boolean;
  readonly #colourErr: boolean;
  #progressShown = false;

  constructor(out: NodeJS.WriteStream, err: NodeJS.WriteStream, environment: NodeJS.ProcessEnv) {
    this.#out = out;
    this.#err = err;
    const wanted = !environment.NO_COLOR && environment.TERM !== "dumb";
    const forced = environment.FORCE_COLOR !== undefined && environment.FORCE_COLOR !== "0";
    this.colourOut = forced || (wanted && out.isTTY === true);
    this.#colourErr = forced || (wanted && err.isTTY === true);
  }

  /** What was asked for. */
  print(text: string): void {
    this.clearProgress();
    this.#out.write(text.endsWith("\n") ? text : `${text}\n`);
  }

  /** One object and nothing else. */
  printJson(value: unknown): void {
    this.clearProgress();
    this.#out.write(`${JSON.stringify(value, undefined, 2)}\n`);
  }

  /** Messages, each as `file:line:column: severity: text` with its hint. */
  tell(messages: readonly Message[]): void {
    this.clearProgress();
    const colours = createColors(this.#colourErr);
    for (const message of messages) {
      for (const line of messageLines(message, process.cwd(), colours)) this.#err.write(`${line}\n`);
    }
  }

  /** A remark that belongs to no file. */
  remark(text: string): void {
    this.clearProgress();
    this.#err.write(`${text}\n`);
  }

  /** How far the work is, on a line that the next one replaces; nothing where the stream is no terminal. */
  progress(stage: string, share?: number): void {
    if (!this.#err.isTTY) return;
    const colours = createColors(this.#colourErr);
    const percent = share === undefined ? "" : ` ${Math.round(share * 100)} %`;
    this.#err.write(`\r\u001b[2K${colours.dim(`${stage}…${percent}`)}`);
    this.#progressShown = true;
  }

  /** Takes the progress line away. */
  clearProgress(): void {
    if (this.#progressShown) this.#err.write("\r\u001b[2K");
    this.#progressShown = false;
  }
}
