import type { ActionId } from "./actions";
import { actions, ariaKey, keyText } from "./actions";
import { make, setAttribute } from "./dom";
import type { IconName } from "./icons";
import { icon } from "./icons";

export interface Menu {
  readonly element: HTMLElement;
  /** Which of its items are on; only for a menu of things that are on or off. */
  update(isOn: (id: ActionId) => boolean): void;
}

/** A button that opens a list of actions below it (WAI-ARIA Authoring Practices, "Menu button"). */
export function makeMenu(options: {
  readonly id: string;
  readonly label: string;
  readonly icon: IconName;
  readonly items: readonly ActionId[];
  readonly areToggles: boolean;
  readonly perform: (id: ActionId) => void;
}): Menu {
  const button = make(
    "button",
    {
      id: `${options.id}-button`,
      class: "tool menu-button",
      title: options.label,
      attributes: {
        type: "button",
        "aria-label": options.label,
        "aria-haspopup": "menu",
        "aria-expanded": "false",
        "aria-controls": options.id,
      },
    },
    icon(options.icon),
    icon("down"),
  );
  const rows = options.items.map((id) =>
    make(
      "div",
      {
        class: "menu-item",
        attributes: {
          role: options.areToggles ? "menuitemcheckbox" : "menuitem",
          tabindex: -1,
          "data-action": id,
          "aria-checked": options.areToggles ? "false" : undefined,
          "aria-keyshortcuts": ariaKey(id),
        },
      },
      make("span", { class: "menu-check" }, icon("check")),
      make("span", { class: "menu-label", text: actions[id].label }),
      make("kbd", { text: keyText(id), attributes: { "aria-hidden": "true" } }),
    ),
  );
  const list = make(
    "div",
    {
      id: options.id,
      class: "menu",
      attributes: { role: "menu", "aria-label": options.label, hidden: true },
    },
    ...rows,
  );
  const element = make("div", { class: "menu-anchor" }, button, list);

  const open = (at: number) => {
    list.hidden = false;
    button.setAttribute("aria-expanded", "true");
    rows.at(at)?.focus();
  };
  const close = (isFocusKept: boolean) => {
    if (list.hidden) return;
    list.hidden = true;
    button.setAttribute("aria-expanded", "false");
    if (isFocusKept) button.focus();
  };
  const choose = (row: Element | null) => {
    const id = row?.getAttribute("data-action") as ActionId | null | undefined;
    if (id === null || id === undefined) return;
    if (!options.areToggles) close(true);
    options.perform(id);
  };

  button.addEventListener("click", () => (list.hidden ? open(0) : close(true)));
  button.addEventListener("keydown", (event) => {
    if (event.key !== "ArrowDown" && event.key !== "ArrowUp") return;
    event.preventDefault();
    event.stopPropagation();
    open(event.key === "ArrowDown" ? 0 : -1);
  });
  list.addEventListener("click", (event) => choose((event.target as Element).closest(".menu-item")));
  list.addEventListener("keydown", (event) => {
    const at = rows.indexOf(event.target as HTMLDivElement);
    const next: Record<string, number> = {
      ArrowDown: (at + 1) % rows.length,
      ArrowUp: (at - 1 + rows.length) % rows.length,
      Home: 0,
      End: rows.length - 1,
    };
    event.stopPropagation();
    if (event.key in next) rows[next[event.key]].focus();
    else if (event.key === "Enter" || event.key === " ") choose(rows[at] ?? null);
    else if (event.key === "Escape") close(true);
    else return;
    event.preventDefault();
  });
  element.addEventListener("focusout", (event) => {
    if (!element.contains(event.relatedTarget as Node | null)) close(false);
  });
  document.addEventListener("pointerdown", (event) => {
    if (!element.contains(event.target as Node)) close(false);
  });

  return {
    element,
    update(isOn) {
      if (!options.areToggles) return;
      rows.forEach((row, i) => {
        setAttribute(row, "aria-checked", String(isOn(options.items[i])));
      });
    },
  };
}
