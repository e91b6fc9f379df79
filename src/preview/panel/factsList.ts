import type { Fact } from "../protocol";
import { make } from "./dom";
import { icon } from "./icons";

/** What is said of the whole piece, as a list of terms. What is good or bad is told by a sign too, not by colour alone. */
export function makeFactsList(): { readonly element: HTMLElement; update(facts: readonly Fact[]): void } {
  const element = make("dl", { id: "facts", class: "facts" });
  let shown = "";
  return {
    element,
    update(facts) {
      const content = JSON.stringify(facts);
      if (content === shown) return;
      shown = content;
      element.replaceChildren(
        ...facts.map((fact) =>
          make(
            "div",
            { class: `fact ${fact.tone === undefined ? "" : `is-${fact.tone}`}` },
            make("dt", { text: fact.label }),
            make(
              "dd",
              {},
              fact.tone !== undefined && icon(fact.tone === "good" ? "check" : "warning"),
              make("span", { text: fact.value }),
            ),
          ),
        ),
      );
    },
  };
}
