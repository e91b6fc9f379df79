import type { PartFacts } from "../protocol";
import type { Layout } from "./layout";
import type { Walked } from "./performAction";

/** Which part is lit, and the card that tells of it. */
export class LitPart {
  readonly #card: Layout["hoverCard"];
  /** A part that a control points at, −1 for none. */
  #pointed = -1;
  #walked: Walked = { part: -1, finding: -1 };

  constructor(card: Layout["hoverCard"]) {
    this.#card = card;
  }

  get walked(): Walked {
    return this.#walked;
  }

  /** A control points at it; −1: at none. */
  point(part: number): void {
    this.#pointed = part;
  }

  /** It was walked to by keys: its card comes with it. */
  walkTo(walked: Walked, parts: readonly PartFacts[]): void {
    this.#walked = walked;
    const part = parts[walked.part];
    if (part === undefined) this.#card.hide();
    else this.#card.show(part);
  }

  /** The pointer is over it in the picture, CSS pixels; `gap`: the value of the colours there, mm. */
  hover(facts: PartFacts | undefined, x: number, y: number, gap: number | undefined): void {
    if (facts === undefined && gap === undefined) this.#card.hide();
    else this.#card.show(facts, { x, y }, gap);
  }

  /** What is pointed at, else what was walked to, else where the editor's cursor is; −1 where that is none of them. */
  among({ length }: readonly PartFacts[], cursor: number): number {
    const walked = this.#walked.part >= 0 ? this.#walked.part : cursor;
    const lit = this.#pointed >= 0 ? this.#pointed : walked;
    return lit < length ? lit : -1;
  }
}
