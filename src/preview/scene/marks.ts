import type { FindingMark } from "../pieceView";
import type { Spot } from "./dimensionLayout";
import { countText, markSymbols, pinSize, pinStem } from "./markSymbols";
import type { ThinnedMark } from "./markThinning";
import { svgElement } from "./svg";

/** Marks of one place stand side by side, CSS pixels apart. */
const step = 20;

/** A mark and where it stands in the picture; undefined: nowhere in it. */
export interface PlacedMark {
  readonly mark: FindingMark;
  /** Marks near it that it stands for too. */
  readonly others: readonly FindingMark[];
  readonly spot: Spot | undefined;
  /** Something stands before it. */
  readonly isBehind: boolean;
  /** How many marks stand at the same place before this one. */
  readonly rank: number;
}

export interface MarkEvents {
  onPick(mark: FindingMark): void;
  /** A mark is pointed at or has the keyboard's focus; undefined: none. */
  onPoint(mark: FindingMark | undefined): void;
}

const words = { error: "Error", warning: "Warning", note: "Note" } as const;

/** Of the marks that one stands for, so many are told. */
const mostTold = 6;

/** The findings as pins over the picture: real buttons, one stop of the Tab key, arrows from one to the next. */
export class Marks {
  readonly element: HTMLElement;
  readonly #events: MarkEvents;
  #buttons: HTMLButtonElement[] = [];

  constructor(events: MarkEvents) {
    this.#events = events;
    this.element = document.createElement("div");
    this.element.className = "scene-marks";
    this.element.setAttribute("role", "group");
    this.element.setAttribute("aria-label", "Findings on the piece");
    this.element.addEventListener("keydown", (event) => this.#key(event));
  }

  /** Makes the buttons anew. `nameOf`: the name of a part, where it is known. */
  set(marks: readonly ThinnedMark[], nameOf: (part: number) => string | undefined): void {
    const focused = this.#buttons.indexOf(document.activeElement as HTMLButtonElement);
    this.#buttons = marks.map((mark, i) => this.#button(mark, nameOf, i === Math.max(0, focused)));
    this.element.replaceChildren(...this.#buttons);
    this.element.hidden = marks.length === 0;
    if (focused >= 0) this.#buttons[Math.min(focused, marks.length - 1)]?.focus();
  }

  place(placed: readonly PlacedMark[]): void {
    for (const [i, { spot, isBehind, rank }] of placed.entries()) {
      const button = this.#buttons[i];
      if (!button) continue;
      button.classList.toggle("is-away", spot === undefined);
      button.classList.toggle("is-behind", isBehind);
      if (!spot) continue;
      const { width, height } = pinSize;
      const [x, y] = [spot.x + rank * step - width / 2, spot.y - height];
      button.style.transform = `translate(${x.toFixed(1)}px, ${y.toFixed(1)}px)`;
    }
  }

  #button(
    { mark, others }: ThinnedMark,
    nameOf: (part: number) => string | undefined,
    isStop: boolean,
  ): HTMLButtonElement {
    const button = document.createElement("button");
    button.type = "button";
    button.className = `scene-mark is-${mark.severity}`;
    button.tabIndex = isStop ? 0 : -1;
    const told = (one: FindingMark): string => {
      const part = nameOf(one.part);
      return part ? `${words[one.severity]}, ${part}: ${one.text}` : `${words[one.severity]}: ${one.text}`;
    };
    const all = [mark, ...others.slice(0, mostTold - 1)].map(told);
    if (others.length >= mostTold) all.push(`and ${others.length + 1 - mostTold} more`);
    // What is seen beside it is also in its name (WCAG 2.2, 2.5.3).
    if (others.length > 0) all[0] = `${all[0]} (${countText(others.length)} near it)`;
    const text = all.join("\n");
    button.setAttribute("aria-label", text);
    button.title = text;
    if (others.length > 0) button.dataset.others = countText(others.length);
    const { width, height } = pinSize;
    const { body, sign } = markSymbols[mark.severity];
    button.append(
      svgElement(
        "svg",
        { width, height, viewBox: `0 0 ${width} ${height}`, "aria-hidden": "true" },
        svgElement("path", { class: "scene-mark-stem", d: pinStem }),
        svgElement("path", { class: "scene-mark-body", d: body }),
        svgElement("path", { class: "scene-mark-sign", d: sign }),
      ),
    );
    button.addEventListener("click", () => this.#events.onPick(mark));
    for (const name of ["pointerenter", "focus"] as const) {
      button.addEventListener(name, () => this.#events.onPoint(mark));
    }
    for (const name of ["pointerleave", "blur"] as const) {
      button.addEventListener(name, () => this.#events.onPoint(undefined));
    }
    return button;
  }

  #key(event: KeyboardEvent): void {
    const at = this.#buttons.indexOf(document.activeElement as HTMLButtonElement);
    const last = this.#buttons.length - 1;
    const to = {
      ArrowRight: Math.min(last, at + 1),
      ArrowDown: Math.min(last, at + 1),
      ArrowLeft: Math.max(0, at - 1),
      ArrowUp: Math.max(0, at - 1),
      Home: 0,
      End: last,
    }[event.key];
    if (at < 0 || to === undefined) return;
    event.preventDefault();
    // The arrows turn the piece elsewhere.
    event.stopPropagation();
    this.#buttons[at].tabIndex = -1;
    this.#buttons[to].tabIndex = 0;
    this.#buttons[to].focus();
  }
}
