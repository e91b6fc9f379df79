import type { PartFacts } from "../protocol";
import { make, setText } from "./dom";
import { partMeasures, placeText } from "./textEquivalent";
import { gapText } from "./wearWords";

/** What is said of a part, and of the gap there, beside the pointer. For the eye alone: the list of parts says the same. */
export function makeHoverCard(): {
  readonly element: HTMLElement;
  /** x, y: CSS pixels in the picture; absent: in its corner, for a part that was walked to by keys. */
  show(part: PartFacts | undefined, at?: { readonly x: number; readonly y: number }, gap?: number): void;
  hide(): void;
} {
  const element = make("div", {
    id: "hover-card",
    class: "hover-card",
    attributes: { "aria-hidden": "true", hidden: true },
  });
  const told = make("div", { class: "hover-part" });
  const gapLine = make("span", { class: "hover-gap", attributes: { hidden: true } });
  element.append(told, gapLine);
  let shown: PartFacts | undefined;
  return {
    element,
    show(part, at, gap) {
      gapLine.hidden = gap === undefined;
      if (gap !== undefined) setText(gapLine, gapText(gap));
      told.hidden = part === undefined;
      if (part !== undefined && part !== shown) {
        shown = part;
        const place = part.origin && placeText(part.origin);
        told.replaceChildren(
          make("strong", { text: part.name }),
          make("span", { text: [part.kind, ...partMeasures(part)].join(" · ") }),
          ...(place === undefined ? [] : [make("span", { class: "hover-place", text: place })]),
        );
      }
      element.hidden = false;
      const host = element.parentElement;
      if (at === undefined || host === null) {
        element.style.transform = "";
        element.classList.add("is-in-corner");
        return;
      }
      element.classList.remove("is-in-corner");
      // Below and right of the pointer, else on its other side: never under it, never outside.
      const place = (pointer: number, size: number, room: number) =>
        pointer + 14 + size <= room ? pointer + 14 : Math.max(4, pointer - 10 - size);
      const x = place(at.x, element.offsetWidth, host.clientWidth);
      const y = place(at.y, element.offsetHeight, host.clientHeight);
      element.style.transform = `translate(${Math.round(x)}px, ${Math.round(y)}px)`;
    },
    hide() {
      element.hidden = true;
    },
  };
}
