import type { Message, Place } from "../../message";
import { make, roving, setAttribute } from "./dom";
import { makeMessageRow } from "./messageRows";

export interface FindingsListEvents {
  goTo(place: Place): void;
  /** A finding is pointed at or has the focus; undefined: none is. */
  point(finding: Message | undefined): void;
}

const order = { error: 0, warning: 1, note: 2 } as const;

/** Findings in the order in which they are read: the worst first, else as they came. */
export const inReadingOrder = (messages: readonly Message[]): Message[] =>
  [...messages].sort((one, other) => order[one.severity] - order[other.severity]);

/** The findings: one tab stop, walked with the arrow keys; Enter or a click goes to the line. */
export function makeFindingsList(events: FindingsListEvents): {
  readonly element: HTMLElement;
  /** `current`: the finding that was walked to from the picture. */
  update(messages: readonly Message[], current: number): void;
} {
  const list = make("ul", { class: "findings", attributes: { role: "list", "aria-label": "Findings" } });
  const empty = make("p", { class: "empty", text: "Nothing was found." });
  const element = make("div", { id: "findings" }, list, empty);
  const walk = roving(list, ".link", "down");
  let shown = "";
  let currentShown = -1;

  return {
    element,
    update(messages, current) {
      const content = JSON.stringify(messages);
      if (content !== shown) {
        shown = content;
        currentShown = -1;
        list.replaceChildren(
          ...messages.map((message) => {
            const item = make("li", { class: "finding" }, makeMessageRow(message, events.goTo));
            item.addEventListener("pointerenter", () => events.point(message));
            item.addEventListener("pointerleave", () => events.point(undefined));
            item.addEventListener("focusin", () => events.point(message));
            item.addEventListener("focusout", () => events.point(undefined));
            return item;
          }),
        );
        walk.refresh();
      }
      list.hidden = messages.length === 0;
      empty.hidden = messages.length > 0;
      if (current !== currentShown) {
        [...list.children].forEach((item, i) => {
          setAttribute(item, "aria-current", i === current ? "true" : undefined);
        });
        if (current >= 0) list.children[current]?.scrollIntoView({ block: "nearest" });
        currentShown = current;
      }
    },
  };
}
