import { make } from "../../preview/panel/dom";
import type { Speech } from "../../preview/panel/speech";
import { beginning, type GuideState, goTo, keptOf, stepOf, typed, withReading } from "./guideState";
import type { FromGuide, ToGuide, VerdictMessage } from "./protocol";
import { readKeptGuide } from "./protocolChecks";
import { stepList } from "./stepList";
import { StepView } from "./stepView";

/** The page's way to the editor. */
export interface GuideHost {
  post(message: FromGuide): void;
  readonly kept: unknown;
  keep(state: unknown): void;
}

/** What was typed is judged after this pause, ms. */
const typingPause = 250;

/** The measuring guide: a list of steps beside the step that is taken. */
export class GuideView {
  readonly #root: HTMLElement;
  readonly #host: GuideHost;
  readonly #speech: Speech;
  #state: GuideState | undefined;
  #verdict: VerdictMessage | undefined;
  #step: StepView | undefined;
  #list: HTMLElement | undefined;
  #request = 0;
  #pause: ReturnType<typeof setTimeout> | undefined;
  readonly #finish = make("button", { class: "primary", text: "Write File", attributes: { type: "button" } });
  readonly #next = make("button", { class: "next", text: "Next", attributes: { type: "button" } });
  readonly #outcome = make("p", { class: "outcome", attributes: { role: "status" } });

  constructor(root: HTMLElement, host: GuideHost, speech: Speech) {
    this.#root = root;
    this.#host = host;
    this.#speech = speech;
    this.#finish.addEventListener("click", () => this.#write());
    this.#next.addEventListener("click", () => this.#go((this.#state?.at ?? 0) + 1));
  }

  receive(message: ToGuide): void {
    if (message.kind === "guide") {
      this.#state = beginning(message, readKeptGuide(this.#host.kept));
      this.#show();
      this.#check();
    } else if (message.kind === "verdict") {
      if (message.request !== this.#request) return;
      this.#verdict = message;
      this.#tell();
    } else {
      this.#outcome.textContent = message.text;
      this.#outcome.className = message.isWritten ? "outcome" : "outcome wrong";
    }
  }

  #show(): void {
    const state = this.#state;
    if (!state) return;
    const { name, cautions } = state.guide;
    this.#step = this.#makeStep();
    this.#list = this.#makeList();
    this.#root.replaceChildren(
      make(
        "header",
        {},
        make("h1", { text: `Measure ${name}` }),
        make("p", {
          class: "quiet",
          text: "Take each measure twice, with the instrument laid on anew. The mean counts. Only the girth is needed; each of the others makes the fit surer.",
        }),
        this.#unitChoice(state),
      ),
      make(
        "main",
        {},
        this.#list,
        make("div", { class: "taking" }, this.#step.element, this.#buttons(), this.#outcome),
      ),
      make("footer", { class: "quiet", text: cautions.join(" ") }),
    );
    this.#step.focusFirst();
  }

  #makeStep(): StepView {
    return new StepView(() => this.#state as GuideState, {
      type: (index, text) => {
        if (!this.#state) return;
        this.#state = withReading(this.#state, stepOf(this.#state).measure, index, text);
        this.#keep();
        clearTimeout(this.#pause);
        this.#pause = setTimeout(() => this.#check(), typingPause);
      },
      next: () => this.#go((this.#state?.at ?? 0) + 1),
    });
  }

  #makeList(): HTMLElement {
    return stepList(this.#state as GuideState, this.#verdict, (at) => this.#go(at));
  }

  #unitChoice({ guide, unit }: GuideState): HTMLElement {
    if (guide.units.length < 2) return make("p", { class: "quiet", text: `In ${unit}, as the file has it.` });
    const select = make(
      "select",
      { id: "unit" },
      ...guide.units.map((one) => make("option", { text: one, attributes: { value: one } })),
    );
    select.value = unit;
    select.addEventListener("change", () => {
      if (!this.#state) return;
      this.#state = { ...this.#state, unit: select.value };
      this.#keep();
      this.#replaceStep();
      this.#check();
    });
    return make(
      "p",
      { class: "unit" },
      make("label", { text: "Units of the tape", attributes: { for: "unit" } }),
      select,
    );
  }

  #buttons(): HTMLElement {
    const button = (text: string, name: string, act: () => void) => {
      const made = make("button", { class: name, text, attributes: { type: "button" } });
      made.addEventListener("click", act);
      return made;
    };
    return make(
      "div",
      { class: "buttons" },
      button("Back", "back", () => this.#go((this.#state?.at ?? 0) - 1)),
      this.#next,
      this.#finish,
      button("Printable Sheet", "sheet", () => this.#host.post({ kind: "sheet" })),
    );
  }

  #go(at: number): void {
    if (!this.#state) return;
    if (at >= this.#state.guide.steps.length) {
      this.#finish.focus();
      return;
    }
    this.#state = goTo(this.#state, at);
    this.#keep();
    this.#replaceStep();
    this.#tell();
    this.#check();
    this.#step?.focusFirst();
    const { title } = stepOf(this.#state);
    this.#speech.say(`Step ${this.#state.at + 1} of ${this.#state.guide.steps.length}: ${title}`);
  }

  #replaceStep(): void {
    const step = this.#makeStep();
    this.#step?.element.replaceWith(step.element);
    this.#step = step;
  }

  /** What was found, in the list and the step; the keyboard stays where it is. */
  #tell(): void {
    if (!this.#state || !this.#list) return;
    const focused = [...this.#list.querySelectorAll("button")].indexOf(
      document.activeElement as HTMLButtonElement,
    );
    const list = this.#makeList();
    this.#list.replaceWith(list);
    this.#list = list;
    if (focused >= 0) list.querySelectorAll("button")[focused]?.focus();
    this.#step?.tell(this.#verdict?.verdicts[stepOf(this.#state).measure]);
    // What was not measured is passed over: the button says so.
    this.#next.textContent =
      typed(this.#state.entries, stepOf(this.#state).measure).length === 0 ? "Skip" : "Next";
    this.#finish.disabled = this.#verdict?.canFinish !== true;
  }

  #check(): void {
    if (!this.#state) return;
    clearTimeout(this.#pause);
    this.#request++;
    const { unit, entries } = this.#state;
    this.#host.post({ kind: "check", request: this.#request, unit, entries });
  }

  #write(): void {
    if (!this.#state) return;
    this.#outcome.textContent = "";
    const { unit, entries } = this.#state;
    this.#host.post({ kind: "finish", unit, entries });
  }

  #keep(): void {
    if (this.#state) this.#host.keep(keptOf(this.#state));
  }
}
