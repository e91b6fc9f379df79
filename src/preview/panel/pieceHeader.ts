import type { DesignMessage } from "../protocol";
import type { ActionId } from "./actions";
import { actions, ariaKey, keyText } from "./actions";
import { make, setText } from "./dom";

/** Name and wearer of the piece, and what can be done with it as a whole. */
export function makePieceHeader(perform: (id: ActionId) => void): {
  readonly element: HTMLElement;
  update(design: DesignMessage | undefined): void;
} {
  const name = make("h1", { id: "piece-name", class: "piece-name", text: "Headpiece" });
  const wearer = make("p", { id: "piece-wearer", class: "piece-wearer" });
  const file = make("p", { id: "piece-file", class: "piece-file" });
  const button = (id: ActionId, text: string, look: string) =>
    make("button", {
      id: `button-${id}`,
      class: look,
      text,
      title: `${actions[id].label} (${keyText(id)})`,
      attributes: { type: "button", "data-action": id, "aria-keyshortcuts": ariaKey(id) },
    });
  const element = make(
    "header",
    { class: "piece-header" },
    name,
    wearer,
    file,
    make(
      "div",
      { class: "button-row" },
      button("export", "Export…", "button"),
      button("report", "Report", "button is-secondary"),
    ),
    make(
      "div",
      { class: "choose-row", attributes: { role: "group", "aria-label": "Choose" } },
      button("chooseWearer", "Wearer…", "link"),
      button("choosePrinter", "Printer…", "link"),
      button("chooseMaterial", "Material…", "link"),
    ),
  );
  element.addEventListener("click", (event) => {
    const id = (event.target as Element).closest("[data-action]")?.getAttribute("data-action");
    if (id) perform(id as ActionId);
  });
  return {
    element,
    update(design) {
      const {
        headpiece,
        wearer: who,
        file: from,
      } = design ?? { headpiece: "Headpiece", wearer: "", file: "" };
      setText(name, headpiece);
      setText(wearer, who === "" ? "" : `for ${who}`);
      setText(file, from);
      file.title = from;
      for (const child of element.querySelectorAll("button")) child.disabled = design === undefined;
    },
  };
}
