import type { PartSummary } from "../../build/service/protocol";
import { callAt } from "../callExtent";
import { offsetAt, placeAt } from "../textPlaces";

/** A call that made parts, in one file: its lines and what lies between, counted as in the editor from 0. */
interface PartCall {
  /** The first part that the call made: in a loop it makes many. */
  readonly part: number;
  readonly start: number;
  readonly end: number;
  readonly line: number;
}

/** Finds the part that the editor's cursor is in. Made anew when the parts or the text change. */
export class CursorParts {
  readonly #calls: readonly PartCall[];
  readonly #text: string;
  readonly #parts: readonly PartSummary[];

  constructor(file: string, text: string, parts: readonly PartSummary[]) {
    this.#text = text;
    this.#parts = parts;
    const seen = new Map<string, PartCall>();
    parts.forEach(({ origin }, part) => {
      if (!origin || origin.file !== file) return;
      const key = `${origin.line}:${origin.column}`;
      if (seen.has(key)) return;
      const start = offsetAt(text, origin.line, origin.column);
      const end = callAt(text, start)?.end ?? start;
      seen.set(key, { part, start, end, line: origin.line });
    });
    this.#calls = [...seen.values()];
  }

  /** Whether it was made of these parts. */
  isOf(parts: readonly PartSummary[]): boolean {
    return parts === this.#parts;
  }

  /**
   * The part of the smallest call that encloses an offset, else that of the first call in its line, else −1. A call
   * over many lines is where the cursor stands; one that is only named in passing lights up from anywhere in its line.
   */
  at(offset: number): number {
    let best: PartCall | undefined;
    for (const call of this.#calls) {
      const encloses = call.start <= offset && offset <= call.end;
      if (encloses && (!best || call.end - call.start < best.end - best.start)) best = call;
    }
    if (best) return best.part;
    const { line } = placeAt(this.#text, offset);
    return this.#calls.find((call) => call.line === line)?.part ?? -1;
  }
}
