import { make, setAttribute } from "./dom";
import { clampWidth, sideWidthLimits } from "./keptState";

/** The edge between the picture and the side panel: dragged, or moved with the arrow keys. */
export function makeSash(change: (width: number) => void): {
  readonly element: HTMLElement;
  update(width: number): void;
} {
  const element = make("div", {
    id: "sash",
    class: "sash",
    attributes: {
      role: "separator",
      tabindex: 0,
      "aria-label": "Width of the details",
      "aria-orientation": "vertical",
      "aria-controls": "side",
      "aria-valuemin": sideWidthLimits.least,
      "aria-valuemax": sideWidthLimits.most,
    },
  });
  let shown = sideWidthLimits.least as number;
  let start: { readonly x: number; readonly width: number } | undefined;
  element.addEventListener("pointerdown", (event) => {
    start = { x: event.clientX, width: shown };
    element.setPointerCapture(event.pointerId);
    event.preventDefault();
  });
  element.addEventListener("pointermove", (event) => {
    if (start !== undefined) change(clampWidth(start.width + start.x - event.clientX));
  });
  const end = () => {
    start = undefined;
  };
  element.addEventListener("pointerup", end);
  element.addEventListener("pointercancel", end);
  element.addEventListener("keydown", (event) => {
    const by: Record<string, number> = { ArrowLeft: 20, ArrowRight: -20 };
    if (!(event.key in by)) return;
    event.preventDefault();
    change(clampWidth(shown + by[event.key]));
  });
  return {
    element,
    update(width) {
      shown = width;
      setAttribute(element, "aria-valuenow", String(width));
    },
  };
}
