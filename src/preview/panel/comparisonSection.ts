import type { Place } from "../../message";
import type { ComparedPart, ComparisonScene, PartFacts } from "../protocol";
import type { ActionId } from "./actions";
import { actions, ariaKey, keyText } from "./actions";
import type { ComparisonState } from "./comparisonState";
import { comparisonStatus } from "./comparisonState";
import { differenceSwatch } from "./differenceSwatch";
import { make, setAttribute, setText } from "./dom";
import { inReadingOrder } from "./findingsList";
import { makeMessageRow } from "./messageRows";

export interface ComparisonSectionEvents {
  lookAt(place: readonly [number, number, number]): void;
  goTo(place: Place): void;
  /** −1: none. */
  pointPart(part: number): void;
  openPart(part: number): void;
  perform(id: ActionId): void;
}

/** Parts that are listed at most; the others are counted. */
export const mostCompared = 60;

/** A piece beside its version in a commit: measurements side by side, volumes, the greatest distance, the parts. */
export function makeComparisonSection(events: ComparisonSectionEvents): {
  readonly element: HTMLElement;
  /** `hasView`: there is a picture in which a place can be looked at. `parts`: those of the piece of now. */
  update(state: ComparisonState | undefined, hasView: boolean, parts: readonly PartFacts[]): void;
} {
  const commit = make("p", { id: "comparison-commit", class: "comparison-commit" });
  const status = make("p", { id: "comparison-status", class: "wear-checking" });
  const messages = make("ul", {
    class: "findings",
    attributes: { role: "list", "aria-label": "Said of the comparison" },
  });
  const body = make("div", { id: "comparison-body" });
  const other = deed("compare", "Another commit…", events.perform);
  const end = deed("endComparison", "End comparison", events.perform);
  const element = make(
    "div",
    { id: "comparison" },
    commit,
    status,
    messages,
    body,
    make("div", { class: "comparison-deeds" }, other, end),
  );
  let shownScene: ComparisonScene | undefined;
  let shownMessages = "";
  let shownParts = "";

  return {
    element,
    update(state, hasView, parts) {
      if (state === undefined) {
        shownScene = undefined;
        body.replaceChildren();
        return;
      }
      const { scene, isOutdated, revision } = state;
      element.classList.toggle("is-old", isOutdated);
      setText(status, comparisonStatus(state));
      status.hidden = status.textContent === "";
      const told = JSON.stringify(state.messages);
      if (told !== shownMessages) {
        shownMessages = told;
        messages.replaceChildren(
          ...inReadingOrder(state.messages).map((message) =>
            make("li", { class: "finding" }, makeMessageRow(message, events.goTo)),
          ),
        );
      }
      messages.hidden = state.messages.length === 0;
      setAttribute(body, "aria-busy", state.stage === undefined ? undefined : "true");
      const lines = JSON.stringify([hasView, parts.map(({ origin }) => origin !== undefined)]);
      if (scene === shownScene && lines === shownParts && scene !== undefined) return;
      shownScene = scene;
      shownParts = lines;
      commit.replaceChildren(...commitWords(scene, revision));
      body.replaceChildren(...(scene ? contentOf(scene, hasView, parts, events) : []));
    },
  };
}

function commitWords(scene: ComparisonScene | undefined, revision: string): (HTMLElement | string)[] {
  if (!scene) return ["With ", make("code", { text: revision })];
  const { asked, hash, subject } = scene.revision;
  const name = asked === hash || hash.startsWith(asked) || asked.startsWith(hash) ? "" : ` (${asked})`;
  return ["With ", make("code", { text: hash }), `${name} ${subject}`];
}

function contentOf(
  scene: ComparisonScene,
  hasView: boolean,
  parts: readonly PartFacts[],
  events: ComparisonSectionEvents,
): HTMLElement[] {
  return [
    make("p", { id: "comparison-sentence", class: "comparison-sentence", text: scene.sentence }),
    ...scene.notes.map((text) => make("p", { class: "comparison-note", text })),
    volumes(scene, hasView, events),
    ...(scene.rows.length > 0 ? [measurements(scene)] : []),
    ...(scene.findings.length > 0 ? findingsOf(scene) : []),
    ...(scene.parts.length > 0 ? partsOf(scene.parts, parts, events) : []),
  ];
}

function volumes(scene: ComparisonScene, hasView: boolean, events: ComparisonSectionEvents): HTMLElement {
  const row = (label: HTMLElement | string, value: HTMLElement | string, sign?: "added" | "removed") =>
    make(
      "div",
      { class: "fact" },
      make("dt", {}, sign && differenceSwatch(sign), label),
      make("dd", {}, value),
    );
  const rows = [row("Added", scene.added, "added"), row("Removed", scene.removed, "removed")];
  const { greatest } = scene;
  if (greatest) {
    const look = make("button", {
      id: "comparison-greatest",
      class: "link",
      text: greatest.text,
      title: "Look at that place",
      attributes: { type: "button" },
    });
    look.addEventListener("click", () => events.lookAt(greatest.at));
    rows.push(row("Greatest distance", hasView ? look : greatest.text));
  }
  return make("dl", { class: "facts comparison-volumes" }, ...rows);
}

function measurements({ rows }: ComparisonScene): HTMLElement {
  const head = (text: string) => make("th", { text, attributes: { scope: "col" } });
  return make(
    "table",
    { id: "comparison-table", class: "comparison-table" },
    make("caption", { class: "visually-hidden", text: "Measurements before and now" }),
    make("thead", {}, make("tr", {}, head("Measure"), head("Before"), head("Now"), head("Change"))),
    make(
      "tbody",
      {},
      ...rows.map(({ label, before, now, change }) =>
        make(
          "tr",
          {},
          make("th", { text: label, attributes: { scope: "row" } }),
          make("td", { text: before }),
          make("td", { text: now }),
          make("td", { text: change }),
        ),
      ),
    ),
  );
}

function findingsOf({ findings }: ComparisonScene): HTMLElement[] {
  return [
    make("h3", { class: "comparison-head", text: "Findings that came and went" }),
    make(
      "ul",
      { class: "comparison-findings", attributes: { role: "list" } },
      ...findings.map((text) => make("li", { text })),
    ),
  ];
}

/** How many there are of each kind: "2 added, 1 removed". */
export function partsSummary(parts: readonly ComparedPart[]): string {
  const kinds = ["added", "removed", "changed", "renamed"] as const;
  return kinds
    .flatMap((kind) => {
      const count = parts.filter(({ change }) => change === kind).length;
      return count === 0 ? [] : [`${count} ${kind}`];
    })
    .join(", ");
}

const signs = { added: "+", removed: "−", changed: "≠", renamed: "=" } as const;

function partsOf(
  compared: readonly ComparedPart[],
  parts: readonly PartFacts[],
  events: ComparisonSectionEvents,
): HTMLElement[] {
  const list = make(
    "ul",
    {
      id: "comparison-parts",
      class: "comparison-parts",
      attributes: { role: "list", "aria-label": "Parts" },
    },
    ...compared.slice(0, mostCompared).map((one) => make("li", {}, partRow(one, parts, events))),
  );
  const more = compared.length - mostCompared;
  return [
    make("h3", { class: "comparison-head", text: `Parts: ${partsSummary(compared)}` }),
    list,
    ...(more > 0 ? [make("p", { class: "empty", text: `and ${more} more` })] : []),
  ];
}

function partRow(
  { name, change, what, part }: ComparedPart,
  parts: readonly PartFacts[],
  { pointPart, openPart }: ComparisonSectionEvents,
): HTMLElement {
  const content = [
    make("span", {
      class: `comparison-sign is-${change}`,
      text: signs[change],
      attributes: { "aria-hidden": "true" },
    }),
    make(
      "span",
      { class: "comparison-part-text" },
      make("span", { class: "part-name", text: name }),
      make("span", { class: "comparison-what", text: ` ${what === "" ? change : `${change}: ${what}`}` }),
    ),
  ];
  if (parts[part]?.origin === undefined) return make("div", { class: "comparison-part" }, ...content);
  const row = make(
    "button",
    { class: "comparison-part", title: "Go to its line", attributes: { type: "button", "data-part": part } },
    ...content,
  );
  row.addEventListener("pointerenter", () => pointPart(part));
  row.addEventListener("pointerleave", () => pointPart(-1));
  row.addEventListener("focus", () => pointPart(part));
  row.addEventListener("blur", () => pointPart(-1));
  row.addEventListener("click", () => openPart(part));
  return row;
}

function deed(id: ActionId, text: string, perform: (id: ActionId) => void): HTMLButtonElement {
  const button = make("button", {
    id: `comparison-deed-${id}`,
    class: "link",
    text,
    title: `${actions[id].label} (${keyText(id)})`,
    attributes: { type: "button", "aria-keyshortcuts": ariaKey(id) },
  });
  button.addEventListener("click", () => perform(id));
  return button;
}
