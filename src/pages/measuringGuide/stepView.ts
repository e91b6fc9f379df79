import { make } from "../../preview/panel/dom";
import { fieldCount, type GuideState, stepOf } from "./guideState";
import type { MeasureVerdict, Remark } from "./protocol";

const ordinals = ["First reading", "Second reading", "Third reading", "Fourth reading", "Fifth reading"];
const severityWords = { error: "Cannot be", warning: "Look again", note: "Note" } as const;

export interface StepDeeds {
  type(index: number, text: string): void;
  /** Enter in the last field. */
  next(): void;
}

/** One measure: its drawing, how it is taken, the fields for its readings. `verdict` is told later, by `tell`. */
export class StepView {
  readonly element: HTMLElement;
  readonly #state: () => GuideState;
  readonly #deeds: StepDeeds;
  readonly #fields = make("div", { class: "fields" });
  readonly #result = make("p", { class: "result" });
  readonly #remarks = make("div", { id: "remarks", class: "remarks", attributes: { role: "status" } });

  constructor(state: () => GuideState, deeds: StepDeeds) {
    this.#state = state;
    this.#deeds = deeds;
    const step = stepOf(state());
    this.element = make(
      "section",
      { class: "measure", attributes: { "aria-labelledby": "step-title" } },
      make("h2", { id: "step-title", text: step.title, attributes: { tabindex: -1 } }),
      make(
        "div",
        { class: "measure-body" },
        step.drawing === undefined ? undefined : drawing(step.drawing),
        make(
          "div",
          { class: "measure-words" },
          make("p", { class: "instrument", text: `With: ${step.instrument}` }),
          make("p", { text: step.where }),
          make("p", { text: step.how }),
          make("p", { class: "quiet", text: `Often wrong: ${step.mistakes}` }),
          step.stands === undefined
            ? undefined
            : make("p", { class: "stands", text: `In the file: ${step.stands}` }),
          this.#fields,
          this.#result,
          this.#remarks,
        ),
      ),
    );
    this.#showFields(false);
  }

  /** Shows what was found of the readings. */
  tell(verdict: MeasureVerdict | undefined): void {
    this.#showFields(verdict?.differ ?? false);
    this.#result.textContent = resultWords(verdict, stepOf(this.#state()).isNeeded);
    this.#remarks.replaceChildren(...(verdict?.remarks ?? []).map(remark));
    const isWrong = verdict?.remarks.some(({ severity }) => severity === "error") ?? false;
    for (const input of this.#fields.querySelectorAll("input")) {
      if (isWrong && input.value.trim() !== "") input.setAttribute("aria-invalid", "true");
      else input.removeAttribute("aria-invalid");
    }
  }

  focusFirst(): void {
    const inputs = [...this.#fields.querySelectorAll("input")];
    (inputs.find(({ value }) => value === "") ?? inputs[0])?.focus();
  }

  /** Adds the fields that are missing; those that are there stay, with the cursor in them. */
  #showFields(differ: boolean): void {
    const state = this.#state();
    const step = stepOf(state);
    const wanted = fieldCount(step, state.entries, differ);
    while (this.#fields.childElementCount > wanted) this.#fields.lastElementChild?.remove();
    for (let i = this.#fields.childElementCount; i < wanted; i++) this.#fields.append(this.#field(i));
  }

  #field(index: number): HTMLElement {
    const { unit, entries } = this.#state();
    const step = stepOf(this.#state());
    const name = step.readings === 1 ? step.title : (ordinals[index] ?? `Reading ${index + 1}`);
    const input = make("input", {
      id: `reading-${index}`,
      attributes: {
        type: "text",
        inputmode: "decimal",
        autocomplete: "off",
        spellcheck: "false",
        maxlength: 12,
        "aria-describedby": "remarks",
      },
    });
    input.value = entries[step.measure]?.[index] ?? "";
    input.addEventListener("input", () => this.#deeds.type(index, input.value));
    input.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || event.isComposing) return;
      event.preventDefault();
      const following = this.#fields.querySelector<HTMLInputElement>(`#reading-${index + 1}`);
      if (following && input.value.trim() !== "") following.focus();
      else this.#deeds.next();
    });
    return make(
      "div",
      { class: "field" },
      make("label", { text: `${name}, ${unit}`, attributes: { for: input.id } }),
      input,
    );
  }
}

function resultWords(verdict: MeasureVerdict | undefined, isNeeded: boolean): string {
  if (!verdict) return "";
  const { mean, difference, allowed, estimate } = verdict;
  if (mean !== undefined) {
    const apart = difference === undefined ? "" : `, difference ${difference} (up to ${allowed} is usual)`;
    return `Mean ${mean}${apart}`;
  }
  if (estimate !== undefined) return `Not measured: taken as ${estimate}`;
  return isNeeded ? "The head form needs this one." : "";
}

const remark = ({ severity, text }: Remark): HTMLElement =>
  make("p", { class: `remark ${severity}` }, make("strong", { text: `${severityWords[severity]}: ` }), text);

/** A drawing that the extension made, as nodes: only what SVG draws with, no script, nothing that loads. */
function drawing(svg: string): HTMLElement {
  const parsed = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  const box = make("div", { class: "drawing" });
  const hasOther = [...parsed.querySelectorAll("*")].some(({ localName }) => !drawn.has(localName));
  if (parsed.localName === "svg" && !hasOther) box.append(document.importNode(parsed, true));
  return box;
}

const drawn = new Set(["svg", "title", "desc", "path", "circle", "text", "g"]);
