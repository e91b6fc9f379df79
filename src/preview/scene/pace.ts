import type { Context } from "./context";
import type { Piece } from "./piece";

/** How long nothing changes before the picture gets its last touches, ms. */
const settleTime = 120;
/** The same where the processor draws, which has builds to do meanwhile: after a draft the solid is on its way. */
const slowSettleTime = { draft: 3000, solid: 600 };

export interface PaceEvents {
  /** Draw now, with smooth edges or quickly. */
  onDraw(isFine: boolean): void;
  /** Before the picture that stays: what takes too long while things change. */
  onSettle(): void;
  /** Sort the marks of the picture that stands. */
  onSort(): void;
}

/** When the picture is drawn: at most once a frame, and with its last touches once nothing changes any more. */
export class Pace {
  readonly #context: Pick<Context, "isLost" | "isSlow" | "done">;
  readonly #piece: Pick<Piece, "isSolid" | "isEmpty">;
  readonly #events: PaceEvents;
  #frame = 0;
  /** A picture is due at the end of this task. */
  #isDue = false;
  /** To be called when the next picture is on its way. */
  #waiting: (() => void)[] = [];
  #idle: ReturnType<typeof setTimeout> | undefined;
  /** Pictures so far after which the last touches are due. */
  #drawings = 0;
  #sorting: ReturnType<typeof setTimeout> | undefined;

  constructor(
    context: Pick<Context, "isLost" | "isSlow" | "done">,
    piece: Pick<Piece, "isSolid" | "isEmpty">,
    events: PaceEvents,
  ) {
    this.#context = context;
    this.#piece = piece;
    this.#events = events;
  }

  /** Something changed: draws with the next frame. */
  drawSoon(): void {
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.draw();
    });
  }

  /**
   * Draws at the end of this task, so that whatever else it brings is in the same picture: where the processor draws, a
   * second one would keep the first from the screen. `onWay`: called then, unless there is nothing to draw on.
   */
  drawAtTaskEnd(onWay: () => void): void {
    this.#waiting.push(onWay);
    if (this.#isDue) return;
    this.#isDue = true;
    queueMicrotask(() => {
      if (this.#isDue) this.draw();
    });
  }

  /** Draws at once, where there is something to draw on. */
  draw(quality: "fine" | "usual" = "usual"): void {
    const waiting = this.#waiting;
    this.#waiting = [];
    this.#isDue = false;
    if (this.#context.isLost) return;
    const isFine = quality === "fine" || !this.#context.isSlow;
    if (!isFine) this.settleSoon();
    cancelAnimationFrame(this.#frame);
    this.#frame = 0;
    this.#events.onDraw(isFine);
    for (const onWay of waiting) onWay();
  }

  /** Soft shade and the order of marks wait until the picture stands; so do smooth edges where they take long. */
  settleSoon(): void {
    clearTimeout(this.#idle);
    const drawing = ++this.#drawings;
    if (!this.#context.isSlow) {
      this.#settleAfterPause();
      return;
    }
    // Counted from when it stands on the screen: were the smooth one begun before, every step would wait for it.
    void this.#context.done().then(() => {
      if (drawing === this.#drawings) this.#settleAfterPause();
    });
  }

  /** Marks came: they are sorted when no picture is on its way that will see to it. */
  sortSoon(): void {
    clearTimeout(this.#sorting);
    this.#sorting = setTimeout(() => this.#events.onSort(), this.#settleTime);
  }

  dispose(): void {
    cancelAnimationFrame(this.#frame);
    this.#isDue = false;
    clearTimeout(this.#idle);
    this.#drawings++;
    clearTimeout(this.#sorting);
  }

  #settleAfterPause(): void {
    this.#idle = setTimeout(() => {
      this.#events.onSettle();
      this.draw("fine");
    }, this.#settleTime);
  }

  get #settleTime(): number {
    if (!this.#context.isSlow) return settleTime;
    const { isSolid, isEmpty } = this.#piece;
    return isSolid || isEmpty ? slowSettleTime.solid : slowSettleTime.draft;
  }
}
