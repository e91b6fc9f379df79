import type { ActionId } from "./actions";
import { actionIds, actionOf, ariaKey } from "./actions";
import { setAttribute } from "./dom";
import type { Layout } from "./layout";

/** The keys of the picture do what they stand for while it has the focus; the one for help does everywhere. */
export function listenToKeys({ picture }: Pick<Layout, "picture">, perform: (id: ActionId) => void): void {
  setAttribute(picture, "aria-keyshortcuts", actionIds.map(ariaKey).join(" "));
  picture.addEventListener("keydown", (event) => {
    const id = actionOf(event);
    if (id === undefined) return;
    // A mark in the picture is a button of its own.
    const isOnMark = event.target !== picture && (event.target as Element).closest("button") !== null;
    if (isOnMark && (event.key === "Enter" || event.key === " ")) return;
    event.preventDefault();
    perform(id);
  });
  picture.addEventListener("pointerdown", (event) => {
    if ((event.target as Element).closest("button") === null) picture.focus({ preventScroll: true });
  });
  document.addEventListener("keydown", (event) => {
    const isTyped =
      (event.target as Element).closest("input, select, textarea, [role=menu], #picture") !== null;
    if (!isTyped && !event.defaultPrevented && actionOf(event) === "help") perform("help");
  });
}
