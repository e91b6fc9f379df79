import type { WearScene } from "../protocol";
import { make, setAttribute, setText } from "./dom";
import { icon } from "./icons";
import { counted } from "./numbers";
import { firstReasons, verdicts } from "./wearWords";

/** The verdict: word, sign, sentence and reasons. */
export function makeVerdictCard(): {
  readonly element: HTMLElement;
  update(verdict: WearScene["verdict"], isOld: boolean): void;
} {
  const sign = make("span", { class: "verdict-sign" });
  const word = make("strong", { class: "verdict-word" });
  const age = make("span", { class: "verdict-age", text: "of the last good solid" });
  const meaning = make("p", { class: "verdict-meaning" });
  const first = make("ul", { class: "reasons", attributes: { role: "list", "aria-label": "Reasons" } });
  const rest = make("ul", { class: "reasons", attributes: { role: "list", "aria-label": "More reasons" } });
  const summary = make("summary", {});
  const more = make("details", { class: "more-reasons" }, summary, rest);
  const element = make(
    "div",
    { id: "verdict", class: "verdict" },
    sign,
    make(
      "div",
      { class: "verdict-body" },
      make("p", { class: "verdict-head" }, word, age),
      meaning,
      first,
      more,
    ),
  );
  let shown = "";
  return {
    element,
    update(verdict, isOld) {
      element.hidden = verdict === undefined;
      if (verdict === undefined) return;
      const { title, icon: name, text } = verdicts[verdict.word];
      setAttribute(element, "class", `verdict is-${verdict.word}${isOld ? " is-old" : ""}`);
      age.hidden = !isOld;
      const content = JSON.stringify(verdict);
      if (content === shown) return;
      shown = content;
      sign.replaceChildren(icon(name));
      setText(word, title);
      setText(meaning, text);
      const rows = verdict.reasons.map((reason) => make("li", { text: reason }));
      first.replaceChildren(...rows.slice(0, firstReasons));
      rest.replaceChildren(...rows.slice(firstReasons));
      first.hidden = rows.length === 0;
      more.hidden = rows.length <= firstReasons;
      setText(summary, counted(rows.length - firstReasons, "more reason"));
    },
  };
}
