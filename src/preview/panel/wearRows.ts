import { make, setAttribute, setText } from "./dom";
import type { IconName } from "./icons";
import { icon } from "./icons";
import type { ShownRow } from "./wearState";
import { tones } from "./wearWords";

/** What a row shows in the picture or below when it is clicked. */
export type RowDeed = "field" | "wayOn" | "balance" | "sight";

/** The deed of a check's rows; a check without one only tells. */
const deeds: Readonly<Record<string, RowDeed>> = {
  gap: "field",
  wayOn: "wayOn",
  stayOn: "balance",
  weight: "balance",
  sight: "sight",
};

const deedWords: Readonly<Record<RowDeed, { readonly icon: IconName; readonly title: string }>> = {
  field: { icon: "field", title: "Gap colours" },
  wayOn: { icon: "play", title: "Show the way on" },
  balance: { icon: "balance", title: "Balance and contacts" },
  sight: { icon: "sight", title: "Plot of what is seen" },
};

/** What can be done now: a deed that is not there is no button; `true` where it is on. */
export type DeedStates = Readonly<Partial<Record<RowDeed, boolean>>>;

interface Row {
  readonly element: HTMLElement;
  update(row: ShownRow, states: DeedStates): void;
}

/** The questions with their answers. Each row stays the same element while its question does, so that focus stays. */
export function makeWearRows(perform: (deed: RowDeed) => void): {
  readonly element: HTMLElement;
  update(rows: readonly ShownRow[], states: DeedStates): void;
} {
  const element = make("ul", {
    class: "wear-rows",
    attributes: { role: "list", "aria-label": "Fit and wear" },
  });
  const made = new Map<string, Row>();
  let order = "";
  return {
    element,
    update(rows, states) {
      element.hidden = rows.length === 0;
      const keys = keysOf(rows);
      for (const [i, row] of rows.entries()) {
        const known = made.get(keys[i]) ?? makeRow(row, perform);
        made.set(keys[i], known);
        known.update(row, states);
      }
      for (const key of made.keys()) if (!keys.includes(key)) made.delete(key);
      if (JSON.stringify(keys) === order) return;
      order = JSON.stringify(keys);
      const focused = document.activeElement;
      element.replaceChildren(...keys.flatMap((key) => made.get(key)?.element ?? []));
      if (focused instanceof HTMLElement && element.contains(focused)) focused.focus();
    },
  };
}

/** A key for each row: check and question, and a number where both come again. */
function keysOf(rows: readonly ShownRow[]): string[] {
  const seen = new Map<string, number>();
  return rows.map(({ check, label }) => {
    const key = JSON.stringify([check, label]);
    const count = seen.get(key) ?? 0;
    seen.set(key, count + 1);
    return `${key}${count}`;
  });
}

function makeRow({ check }: ShownRow, perform: (deed: RowDeed) => void): Row {
  const deed = Object.hasOwn(deeds, check) ? deeds[check] : undefined;
  const sign = make("span", { class: "wear-sign" });
  const tone = make("span", { class: "visually-hidden" });
  const label = make("span", { class: "wear-label" });
  const value = make("span", { class: "wear-value" });
  const body = make("span", { class: "wear-body" }, tone, label, " ", value);
  const element = make("li", { class: "wear-row" });
  const button = deed && makeButton(deed, perform);
  let shown = "";
  return {
    element,
    update(row, states) {
      const isOn = deed === undefined ? undefined : states[deed];
      const isButton = button !== undefined && isOn !== undefined;
      const kind = `wear-row is-${row.tone}${row.isOld ? " is-old" : ""}`;
      setAttribute(element, "class", kind);
      const host = isButton ? button : element;
      if (body.parentElement !== host) {
        element.replaceChildren();
        button?.replaceChildren();
        host.append(sign, body);
        if (isButton) {
          button.append(make("span", { class: "wear-deed" }, icon(deedWords[deed as RowDeed].icon)));
          element.append(button);
        }
      }
      if (isButton && deed === "sight") setAttribute(button, "aria-expanded", String(isOn));
      else if (isButton) setAttribute(button, "aria-pressed", String(isOn));
      const content = JSON.stringify([row.tone, row.label, row.value]);
      if (content === shown) return;
      shown = content;
      sign.replaceChildren(icon(tones[row.tone].icon));
      setText(tone, `${tones[row.tone].word}: `);
      setText(label, row.label);
      setText(value, row.value);
    },
  };
}

function makeButton(deed: RowDeed, perform: (deed: RowDeed) => void): HTMLButtonElement {
  const button = make("button", {
    class: "wear-button",
    title: deedWords[deed].title,
    attributes: { type: "button", "data-deed": deed },
  });
  button.addEventListener("click", () => perform(deed));
  return button;
}
