import { make, setAttribute, setText } from "./dom";
import { icon } from "./icons";
import type { Foldable } from "./keptState";

/** A section of the side panel under a heading that folds it. */
export interface FoldableSection {
  readonly element: HTMLElement;
  setFolded(isFolded: boolean): void;
  /** A count beside the heading; empty for none. */
  setBadge(text: string): void;
}

export function makeFoldable(
  name: Foldable,
  title: string,
  content: HTMLElement,
  toggle: (name: Foldable) => void,
): FoldableSection {
  const badge = make("span", { class: "badge" });
  const button = make(
    "button",
    {
      id: `fold-${name}`,
      class: "fold",
      attributes: { type: "button", "aria-expanded": "true", "aria-controls": `section-${name}` },
    },
    icon("fold"),
    make("span", { text: title }),
    badge,
  );
  button.addEventListener("click", () => toggle(name));
  const body = make("div", { id: `section-${name}`, class: "side-body" }, content);
  badge.hidden = true;
  return {
    element: make(
      "section",
      { class: "side-section", attributes: { "aria-label": title } },
      make("h2", {}, button),
      body,
    ),
    setFolded(isFolded) {
      body.hidden = isFolded;
      setAttribute(button, "aria-expanded", String(!isFolded));
    },
    setBadge(text) {
      setText(badge, text);
      badge.hidden = text === "";
    },
  };
}

/** The cautions: always there, never folded. */
export function makeCautions(): {
  readonly element: HTMLElement;
  update(cautions: readonly string[]): void;
} {
  const list = make("ul", { attributes: { role: "list" } });
  const element = make(
    "section",
    {
      id: "cautions",
      class: "side-section cautions",
      attributes: { "aria-labelledby": "cautions-title", tabindex: -1 },
    },
    make(
      "h2",
      { id: "cautions-title", class: "cautions-title" },
      icon("warning"),
      make("span", { text: "Take care" }),
    ),
    list,
  );
  let shown = "";
  return {
    element,
    update(cautions) {
      const content = JSON.stringify(cautions);
      element.hidden = cautions.length === 0;
      if (content === shown) return;
      shown = content;
      list.replaceChildren(...cautions.map((text) => make("li", { text })));
    },
  };
}
