import type { PartFacts } from "../protocol";
import { make, setAttribute, setText } from "./dom";
import { icon } from "./icons";
import { counted, lengthText, massText } from "./numbers";
import { partText } from "./textEquivalent";

export interface PartsListEvents {
  /** A part is pointed at or walked to; −1: none. */
  point(part: number): void;
  /** Its line is asked for. */
  open(part: number): void;
}

/** From this many parts on a search field is of use. */
const many = 10;

/** Indices of the parts whose names hold every word of the search, in any order and case. */
export function matching(parts: readonly PartFacts[], search: string): number[] {
  const words = search
    .toLowerCase()
    .split(/\s+/)
    .filter((word) => word !== "");
  return parts.flatMap((part, i) => {
    const text = `${part.name} ${part.kind}`.toLowerCase();
    return words.every((word) => text.includes(word)) ? [i] : [];
  });
}

/** The parts as a list box with a search over it: arrows walk and light, Enter or a click goes to the line. */
export function makePartsList(events: PartsListEvents): {
  readonly element: HTMLElement;
  /** `lit`: the part that the cursor of the editor is in or that was walked to, −1 for none. */
  update(parts: readonly PartFacts[], lit: number): void;
} {
  const search = make("input", {
    id: "parts-search",
    class: "text-input",
    attributes: {
      type: "search",
      placeholder: "Search parts",
      "aria-label": "Search parts",
      "aria-controls": "parts-list",
      spellcheck: "false",
    },
  });
  const list = make("div", {
    id: "parts-list",
    class: "parts",
    attributes: { role: "listbox", "aria-label": "Parts", tabindex: 0 },
  });
  const told = make("p", { class: "empty", attributes: { role: "status" } });
  const element = make("div", { id: "parts" }, search, list, told);

  let all: readonly PartFacts[] = [];
  let content = "";
  let found: number[] = [];
  let options: HTMLElement[] = [];
  let litShown = -1;
  /** Place in `found` of the option that the keyboard is at. */
  let at = -1;

  const walkTo = (next: number, isPointed: boolean) => {
    options[at]?.classList.remove("is-active");
    at = next;
    const option = options[at];
    option?.classList.add("is-active");
    if (isPointed) option?.scrollIntoView({ block: "nearest" });
    setAttribute(list, "aria-activedescendant", option?.id);
    if (isPointed) events.point(at < 0 ? -1 : found[at]);
  };
  const render = () => {
    found = matching(all, search.value);
    options = found.map((part) => partOption(all[part], part));
    list.replaceChildren(...options);
    list.hidden = options.length === 0;
    const isSearched = search.value.trim() !== "";
    setText(
      told,
      all.length === 0
        ? "No parts yet."
        : isSearched
          ? found.length === 0
            ? "No part has that name."
            : `${counted(found.length, "part")} of ${all.length}`
          : "",
    );
    told.hidden = told.textContent === "";
    litShown = -1;
    at = -1;
    walkTo(-1, false);
  };

  search.addEventListener("input", render);
  search.addEventListener("keydown", (event) => {
    if (event.key === "ArrowDown" && options.length > 0) {
      event.preventDefault();
      list.focus();
      walkTo(0, true);
    } else if (event.key === "Escape" && search.value !== "") {
      event.preventDefault();
      event.stopPropagation();
      search.value = "";
      render();
    }
  });
  list.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.altKey || event.metaKey || options.length === 0) return;
    const last = options.length - 1;
    const next: Record<string, number> = {
      ArrowDown: Math.min(last, at + 1),
      ArrowUp: Math.max(0, at - 1),
      Home: 0,
      End: last,
      PageDown: Math.min(last, at + 10),
      PageUp: Math.max(0, at - 10),
    };
    if (event.key in next) walkTo(next[event.key], true);
    else if ((event.key === "Enter" || event.key === " ") && at >= 0) events.open(found[at]);
    else return;
    event.preventDefault();
  });
  list.addEventListener("focus", () => {
    const current = found.indexOf(litShown);
    if (at < 0 && options.length > 0) walkTo(Math.max(0, current), true);
    else if (at >= 0) events.point(found[at]);
  });
  list.addEventListener("blur", () => events.point(-1));
  const partAt = (event: Event) => {
    const option = (event.target as Element).closest<HTMLElement>("[data-part]");
    return option === null ? -1 : Number(option.dataset.part);
  };
  list.addEventListener("pointerover", (event) => events.point(partAt(event)));
  list.addEventListener("pointerleave", () => events.point(-1));
  list.addEventListener("click", (event) => {
    const part = partAt(event);
    if (part < 0) return;
    walkTo(found.indexOf(part), false);
    events.open(part);
  });

  return {
    element,
    update(parts, lit) {
      const next = JSON.stringify(parts);
      if (next !== content) {
        const keptPart = at < 0 ? -1 : found[at];
        const scroll = list.scrollTop;
        content = next;
        all = parts;
        if (parts.length < many) search.value = "";
        search.hidden = parts.length < many;
        render();
        list.scrollTop = scroll;
        if (keptPart >= 0 && found.includes(keptPart)) walkTo(found.indexOf(keptPart), false);
      }
      if (lit === litShown) return;
      litShown = lit;
      options.forEach((option, i) => {
        setAttribute(option, "aria-selected", String(found[i] === lit));
      });
      const isInUse = list.contains(document.activeElement) || list.matches(":hover");
      const option = options[found.indexOf(lit)];
      // Within the list alone: the panel around it does not move under the reader.
      if (option !== undefined && !isInUse) {
        const over = option.offsetTop - list.offsetTop;
        const room = list.clientHeight - option.offsetHeight;
        if (over < list.scrollTop || over > list.scrollTop + room) list.scrollTop = over - room / 2;
      }
    },
  };
}

const partOption = (part: PartFacts, index: number): HTMLElement =>
  make(
    "div",
    {
      id: `part-${index}`,
      class: "part",
      attributes: {
        role: "option",
        "aria-selected": "false",
        "aria-label": partText(part),
        "data-part": index,
      },
    },
    icon(part.kind),
    make("span", { class: "part-name", text: part.name }),
    make("span", {
      class: "part-measure",
      text:
        part.mass !== undefined
          ? massText(part.mass)
          : part.length !== undefined
            ? lengthText(part.length)
            : "",
    }),
  );
