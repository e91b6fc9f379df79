import type { Message, Place } from "../../message";
import type { PlanOrientation, PlanScene } from "../protocol";
import { make, setText } from "./dom";
import { inReadingOrder } from "./findingsList";
import { icon } from "./icons";
import { makeMessageRow } from "./messageRows";
import { makeOrientationCards } from "./orientationCards";
import type { PlanState } from "./planState";
import { tones } from "./wearWords";

export interface PlanSectionEvents {
  use(orientation: PlanOrientation["orientation"]): void;
  goTo(place: Place): void;
}

/** How the piece is printed: what it takes, what was found, which ways up there are. */
export function makePlanSection(events: PlanSectionEvents): {
  readonly element: HTMLElement;
  update(plan: PlanState): void;
} {
  const rows = make("ul", {
    class: "wear-rows plan-rows",
    attributes: { role: "list", "aria-label": "Print" },
  });
  const findings = make("ul", {
    class: "findings plan-findings",
    attributes: { role: "list", "aria-label": "Found in the plan" },
  });
  const cards = makeOrientationCards(events.use);
  const status = make("p", { id: "plan-status", class: "wear-checking" });
  const element = make("div", { id: "plan" }, status, rows, findings, cards.element);
  let shown: PlanScene | undefined;
  let wasOld: boolean | undefined;
  let content = "";
  return {
    element,
    update({ scene, isOld, isPlanning }) {
      element.classList.toggle("is-old", isOld);
      setText(status, planStatus(isOld, isPlanning));
      status.hidden = status.textContent === "";
      cards.update(scene?.orientations ?? [], isOld);
      if (scene === shown && isOld === wasOld) return;
      shown = scene;
      wasOld = isOld;
      const wanted = JSON.stringify([scene?.rows, scene?.marks, isOld]);
      if (wanted === content) return;
      content = wanted;
      rows.replaceChildren(...(scene?.rows ?? []).map((row) => rowOf(row, isOld)));
      rows.hidden = rows.childElementCount === 0;
      findings.replaceChildren(...foundOf(scene?.marks ?? [], events.goTo));
      findings.hidden = findings.childElementCount === 0;
    },
  };
}

export function planStatus(isOld: boolean, isPlanning: boolean): string {
  if (isPlanning) return isOld ? "Planning… What is shown is of the last good build." : "Planning…";
  return isOld ? "Out of date: of the last good build." : "";
}

function rowOf({ label, value, tone }: PlanScene["rows"][number], isOld: boolean): HTMLElement {
  return make(
    "li",
    { class: `wear-row is-${tone}${isOld ? " is-old" : ""}` },
    make("span", { class: "wear-sign" }, icon(tones[tone].icon)),
    make(
      "span",
      { class: "wear-body" },
      make("span", { class: "visually-hidden", text: `${tones[tone].word}: ` }),
      make("span", { class: "wear-label", text: label }),
      " ",
      make("span", { class: "wear-value", text: value }),
    ),
  );
}

/** Findings that are listed; the others stand in the picture alone. */
export const mostListed = 8;

/** What was found, each sentence once, the worst first. */
export function listedMarks(marks: PlanScene["marks"]): {
  readonly messages: readonly Message[];
  readonly more: number;
} {
  const once = new Map(marks.map((mark) => [`${mark.severity} ${mark.text}`, mark]));
  const messages = [...once.values()].map(
    ({ severity, text, part, place }): Message => ({
      id: "plan",
      severity,
      text,
      ...(part !== undefined && { part }),
      ...place,
    }),
  );
  return {
    messages: inReadingOrder(messages).slice(0, mostListed),
    more: Math.max(0, messages.length - mostListed),
  };
}

function foundOf(marks: PlanScene["marks"], goTo: (place: Place) => void): HTMLElement[] {
  const { messages, more } = listedMarks(marks);
  const found = messages.map((message) => make("li", { class: "finding" }, makeMessageRow(message, goTo)));
  return more === 0
    ? found
    : [...found, make("li", { class: "finding empty", text: `and ${more} more in the picture` })];
}
