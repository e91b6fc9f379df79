import type { PreviewCommand, ToPreview } from "../protocol";
import { make, setText } from "./dom";
import { icon } from "./icons";

type NoticeMessage = Extract<ToPreview, { kind: "notice" }>;

/** Said instead of the picture: nothing can be shown, and why. */
export function makeNotice(ask: (command: PreviewCommand) => void): {
  readonly element: HTMLElement;
  update(notice: NoticeMessage | undefined): void;
} {
  const title = make("h1", { id: "notice-title" });
  const text = make("p", { id: "notice-text" });
  const action = make("button", { id: "notice-action", class: "button", attributes: { type: "button" } });
  const element = make(
    "div",
    { id: "notice", class: "notice", attributes: { hidden: true } },
    icon("crown"),
    title,
    text,
    action,
  );
  let command: PreviewCommand | undefined;
  action.addEventListener("click", () => {
    if (command !== undefined) ask(command);
  });
  return {
    element,
    update(notice) {
      element.hidden = notice === undefined;
      if (notice === undefined) return;
      setText(title, notice.title);
      setText(text, notice.text);
      command = notice.action?.command;
      setText(action, notice.action?.label ?? "");
      action.hidden = notice.action === undefined;
    },
  };
}
