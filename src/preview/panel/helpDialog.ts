import { actionIds, actions, groups, keyText } from "./actions";
import { make } from "./dom";
import { icon } from "./icons";

/** The keys of the view, in a dialog that Escape closes. */
export function makeHelpDialog(): { readonly element: HTMLDialogElement; open(): void } {
  const close = make(
    "button",
    { class: "tool", title: "Close (Esc)", attributes: { type: "button", "aria-label": "Close" } },
    icon("close"),
  );
  const element = make(
    "dialog",
    { id: "help", class: "help", attributes: { "aria-labelledby": "help-title" } },
    make("div", { class: "help-head" }, make("h2", { id: "help-title", text: "Keys" }), close),
    make("p", {
      text: "They work while the picture has the focus: click it, or walk to it with Tab. By mouse: drag turns, drag with the right button or Shift moves, the wheel zooms, a click on a part goes to its line.",
    }),
    make(
      "div",
      { class: "help-groups", attributes: { tabindex: 0, role: "group", "aria-label": "Keys by group" } },
      ...groups.map((group) =>
        make(
          "section",
          { attributes: { "aria-label": group } },
          make("h3", { text: group }),
          make(
            "dl",
            {},
            ...actionIds
              .filter((id) => actions[id].group === group)
              .map((id) =>
                make(
                  "div",
                  { class: "help-row" },
                  make("dt", { text: actions[id].label }),
                  make("dd", {}, make("kbd", { text: keyText(id) })),
                ),
              ),
          ),
        ),
      ),
    ),
  );
  let before: Element | null = null;
  close.addEventListener("click", () => element.close());
  element.addEventListener("click", (event) => {
    if (event.target === element) element.close();
  });
  element.addEventListener("close", () => {
    if (before instanceof HTMLElement) before.focus();
  });
  return {
    element,
    open() {
      if (element.open) return;
      before = document.activeElement;
      element.showModal();
      close.focus();
    },
  };
}
