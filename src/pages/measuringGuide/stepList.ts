import { make } from "../../preview/panel/dom";
import { type GuideState, type Standing, standingOf } from "./guideState";
import type { VerdictMessage } from "./protocol";

const standingWords: Readonly<Record<Standing, string>> = {
  open: "not measured",
  taken: "measured",
  once: "one reading",
  doubtful: "measured, look again",
  wrong: "cannot be",
};
/** A sign beside the words, so that no colour has to tell them apart. */
const signs: Readonly<Record<Standing, string>> = {
  open: "○",
  taken: "●",
  once: "◐",
  doubtful: "!",
  wrong: "×",
};

/** The list of steps: how each stands, and the way to it. */
export function stepList(
  state: GuideState,
  verdict: VerdictMessage | undefined,
  go: (at: number) => void,
): HTMLElement {
  const taken = state.guide.steps.filter((step) => standingOf(step, state, verdict) !== "open").length;
  const items = state.guide.steps.map((step, i) => {
    const standing = standingOf(step, state, verdict);
    const button = make(
      "button",
      {
        class: `step ${standing}`,
        attributes: { type: "button", "aria-current": i === state.at ? "step" : undefined },
      },
      make("span", { class: "sign", text: signs[standing], attributes: { "aria-hidden": "true" } }),
      make("span", { class: "step-name", text: step.title }),
      make("span", { class: "step-standing", text: standingWords[standing] }),
    );
    button.addEventListener("click", () => go(i));
    return make("li", {}, button);
  });
  return make(
    "nav",
    { attributes: { "aria-label": "Measures" } },
    make("p", { class: "progress", text: `${taken} of ${state.guide.steps.length} taken` }),
    make("ol", { class: "steps" }, ...items),
  );
}
