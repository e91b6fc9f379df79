import type { Place } from "../../message";
import type { BuildStateMessage } from "../protocol";
import { make } from "./dom";
import { icon } from "./icons";
import { makeMessageRow } from "./messageRows";

/** The errors of a failed build, at the foot of the last good model; can be put aside until the next build. */
export function makeFailureCard(goTo: (place: Place) => void): {
  readonly element: HTMLElement;
  update(build: BuildStateMessage | undefined): void;
} {
  const rows = make("div", { class: "failure-rows" });
  const close = make(
    "button",
    {
      class: "tool",
      title: "Put aside",
      attributes: { type: "button", "aria-label": "Put the errors aside" },
    },
    icon("close"),
  );
  const element = make(
    "section",
    { id: "failure", class: "failure", attributes: { "aria-labelledby": "failure-title", hidden: true } },
    make(
      "div",
      { class: "failure-head" },
      make("h2", { id: "failure-title", text: "The build failed" }),
      close,
    ),
    rows,
  );
  let shown = "";
  let putAside = -1;
  let version = -1;
  close.addEventListener("click", () => {
    putAside = version;
    element.hidden = true;
    document.getElementById("picture")?.focus();
  });
  return {
    element,
    update(build) {
      // The errors of the last build stay while the next goes on: they do not flash with every save.
      if (build?.phase === "building" && !element.hidden) return;
      version = build?.version ?? -1;
      element.hidden = build?.phase !== "failed" || putAside === version;
      if (build === undefined || element.hidden) return;
      const errors = build.messages.filter((message) => message.severity === "error");
      const content = JSON.stringify(errors);
      if (content !== shown) {
        shown = content;
        rows.replaceChildren(
          ...(errors.length === 0
            ? [make("p", { text: "No reason was given. The log says more." })]
            : errors.map((message) => makeMessageRow(message, goTo))),
        );
      }
    },
  };
}
