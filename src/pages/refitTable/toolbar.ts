import { make, setAttribute, setText } from "../../preview/panel/dom";
import type { PageDeeds } from "./pageDeeds";
import type { Scope } from "./protocol";
import { runText } from "./rowWords";
import type { ShownState } from "./shownState";

/** What stands over the table: of which designs it is, how far it is, and what can be done. */
export function makeToolbar(deeds: PageDeeds): {
  readonly element: HTMLElement;
  update(shown: ShownState): void;
} {
  const button = (id: string, text: string, press: () => void, isMain = false) => {
    const made = make("button", {
      id,
      class: isMain ? "button" : "button is-secondary",
      text,
      attributes: { type: "button" },
    });
    made.addEventListener("click", press);
    return made;
  };
  const scopes: readonly (readonly [Scope, HTMLButtonElement])[] = [
    ["design", button("scope-design", "This design", () => deeds.setScope("design"))],
    ["all", button("scope-all", "All designs", () => deeds.setScope("all"))],
  ];
  const bar = make("div", { class: "progress-bar" });
  const progress = make(
    "div",
    {
      id: "progress",
      class: "progress",
      attributes: { role: "progressbar", "aria-label": "Rows made", "aria-valuemin": 0 },
    },
    bar,
  );
  const words = make("span", { id: "run-words", class: "run-words" });
  const cancel = button("cancel", "Cancel", () => deeds.cancel());
  const again = button("again", "Refit Again", () => deeds.again());
  const files = button("export", "Export…", () => deeds.exportFiles(), true);
  files.title = "Writes the files of the rows that pass into the output folder";
  const element = make(
    "header",
    { class: "toolbar" },
    make(
      "div",
      { class: "scopes", attributes: { role: "group", "aria-label": "Designs in the table" } },
      ...scopes.map(([, control]) => control),
    ),
    make("div", { class: "run" }, words, progress),
    make("div", { class: "deeds" }, cancel, again, files),
  );
  return {
    element,
    update({ table, figures, notice }) {
      element.hidden = table === undefined || notice !== undefined;
      if (!table) return;
      const { scope, design, run, groups } = table;
      for (const [name, control] of scopes) {
        setAttribute(control, "aria-pressed", String(name === scope));
      }
      const [[, ofDesign]] = scopes;
      setText(ofDesign, design ? `This design: ${design.label}` : "This design");
      ofDesign.disabled = design === undefined;
      const isRunning = run.phase === "running";
      setText(words, runText(table));
      progress.hidden = !isRunning;
      setAttribute(progress, "aria-valuemax", String(run.all));
      setAttribute(progress, "aria-valuenow", String(run.done));
      bar.style.width = run.all > 0 ? `${(100 * run.done) / run.all}%` : "0";
      // A button that goes while it has the focus hands it to the one that comes.
      const had = document.activeElement;
      cancel.hidden = !isRunning;
      again.hidden = isRunning;
      setText(again, run.phase === "cancelled" || run.phase === "failed" ? "Continue" : "Refit Again");
      if (isRunning && had === again) cancel.focus();
      else if (!isRunning && had === cancel) again.focus();
      files.disabled = !groups.some(({ rows }) => rows.some(({ key }) => figures.get(key)?.passes));
    },
  };
}
