import { make, setAttribute, setText } from "./dom";
import { oncePerFrame } from "./frameThrottle";
import {
  heightOfLayers,
  type Layers,
  layerAfterKey,
  layersUpTo,
  layerText,
  spokenLayer,
  spoolText,
} from "./layers";

/** How much of the print stands: a slider over its layers, with marks where a spool ends. */
export function makeLayerBar(change: (printedHeight: number | undefined) => void): {
  readonly element: HTMLElement;
  /** Undefined hides it. `isOld`: the layers are of an older piece. */
  update(layers: Layers | undefined, printedHeight: number | undefined, isOld: boolean): void;
} {
  const slider = make("input", {
    id: "layer",
    attributes: {
      type: "range",
      min: 1,
      step: 1,
      "aria-label": "Printed layers",
      "aria-describedby": "spool-words",
    },
  });
  const marks = make("div", { class: "spool-marks", attributes: { "aria-hidden": "true" } });
  const words = make("p", { id: "layer-words", class: "layer-words", attributes: { "aria-hidden": "true" } });
  const spools = make("p", { id: "spool-words", class: "spool-words" });
  const element = make(
    "div",
    {
      id: "layer-bar",
      class: "layer-bar",
      attributes: { role: "group", "aria-label": "Layers", hidden: true },
    },
    words,
    make("div", { class: "layer-track" }, slider, marks),
    spools,
  );
  let shown: Layers | undefined;
  const say = (layers: Layers, printed: number) => {
    setText(words, layerText(layers, printed));
    setAttribute(slider, "aria-valuetext", spokenLayer(layers, printed));
    slider.style.setProperty("--filled", `${100 * shareOf(printed, layers.count)}%`);
  };
  const send = oncePerFrame<number>((printed) => {
    if (shown) change(heightOfLayers(shown, printed));
  });
  const go = (printed: number) => {
    if (!shown) return;
    slider.valueAsNumber = printed;
    say(shown, printed);
    send.call(printed);
  };
  slider.addEventListener("input", () => go(slider.valueAsNumber));
  slider.addEventListener("keydown", (event) => {
    if (!shown || event.ctrlKey || event.altKey || event.metaKey || event.shiftKey) return;
    const printed = layerAfterKey(event.key, slider.valueAsNumber, shown.count);
    if (printed === undefined) return;
    event.preventDefault();
    if (printed !== slider.valueAsNumber) go(printed);
  });

  return {
    element,
    update(layers, printedHeight, isOld) {
      element.hidden = layers === undefined;
      element.classList.toggle("is-old", isOld);
      if (layers === undefined) return;
      if (layers !== shown) {
        shown = layers;
        slider.max = String(layers.count);
        marks.replaceChildren(
          ...layers.spoolEnds.map((layer, spool) => {
            const mark = make("span", { class: "spool-mark", title: spoolText(layers, spool) });
            mark.style.setProperty("--at", String(shareOf(layer + 1, layers.count)));
            return mark;
          }),
        );
        const told = layers.spoolEnds.map((_, spool) => spoolText(layers, spool));
        setText(spools, told.join("; "));
        spools.hidden = told.length === 0;
      }
      const printed = layersUpTo(layers, printedHeight);
      slider.valueAsNumber = printed;
      say(layers, printed);
    },
  };
}

/** Where on the track a layer stands, 0 to 1. */
export const shareOf = (printed: number, count: number): number =>
  count <= 1 ? 1 : (printed - 1) / (count - 1);
