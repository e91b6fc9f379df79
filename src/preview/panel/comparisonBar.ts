import type { ViewSettings } from "../pieceView";
import type { ActionId } from "./actions";
import { actions, ariaKey, keyText } from "./actions";
import { shareText } from "./comparisonShare";
import type { ComparisonState } from "./comparisonState";
import { differenceSwatch } from "./differenceSwatch";
import { make, setAttribute, setText } from "./dom";
import { oncePerFrame } from "./frameThrottle";
import { icon } from "./icons";

/** A commit that was asked for by a longer name is told by its hash, characters. */
const longestName = 14;

export interface ComparisonBarEvents {
  move(share: number): void;
  perform(id: ActionId): void;
}

/** Over the picture: a slider from the old piece to that of now, and what the colours between them mean. */
export function makeComparisonBar(events: ComparisonBarEvents): {
  readonly element: HTMLElement;
  /** Undefined hides it. */
  update(
    state: ComparisonState | undefined,
    settings: Pick<ViewSettings, "comparisonShare" | "areDifferencesShown">,
  ): void;
} {
  const slider = make("input", {
    id: "comparison-share",
    attributes: {
      type: "range",
      min: 0,
      max: 100,
      step: 1,
      "aria-label": "From the old piece to that of now",
    },
  });
  const old = make("span", { class: "comparison-end" });
  const added = make("span", { id: "added-volume" });
  const removed = make("span", { id: "removed-volume" });
  const switchButton = button("differences", "show");
  const endButton = button("endComparison", "close");
  const track = make(
    "div",
    { class: "comparison-track" },
    old,
    slider,
    make("span", { class: "comparison-end", text: "now" }),
  );
  const legend = make(
    "ul",
    { class: "comparison-legend", attributes: { role: "list", "aria-label": "Colours" } },
    make("li", {}, differenceSwatch("added"), added),
    make("li", {}, differenceSwatch("removed"), removed),
  );
  const element = make(
    "div",
    {
      id: "comparison-bar",
      class: "comparison-bar",
      attributes: { role: "group", "aria-label": "Comparison", hidden: true },
    },
    track,
    make("div", { class: "comparison-row" }, legend, switchButton, endButton),
  );
  const send = oncePerFrame(events.move);
  const say = (share: number) => {
    setAttribute(slider, "aria-valuetext", shareText(share));
    slider.style.setProperty("--filled", `${100 * share}%`);
  };
  slider.addEventListener("input", () => {
    const share = slider.valueAsNumber / 100;
    say(share);
    send.call(share);
  });
  for (const each of [switchButton, endButton]) {
    each.addEventListener("click", () => events.perform(each.dataset.action as ActionId));
  }

  return {
    element,
    update(state, { comparisonShare, areDifferencesShown }) {
      const scene = state?.scene;
      element.hidden = scene === undefined;
      if (state === undefined || scene === undefined) return;
      element.classList.toggle("is-old", state.isOutdated);
      const { asked, hash } = scene.revision;
      setText(old, asked.length <= longestName ? asked : hash);
      old.title = scene.revision.subject;
      setText(added, `added ${scene.added}`);
      setText(removed, `removed ${scene.removed}`);
      track.hidden = !areDifferencesShown;
      legend.classList.toggle("is-off", !areDifferencesShown);
      setAttribute(switchButton, "aria-pressed", String(areDifferencesShown));
      slider.value = String(100 * comparisonShare);
      say(comparisonShare);
    },
  };
}

function button(id: ActionId, sign: "show" | "close"): HTMLButtonElement {
  const { label } = actions[id];
  return make(
    "button",
    {
      id: `comparison-${id}`,
      class: "tool",
      title: `${label} (${keyText(id)})`,
      attributes: {
        type: "button",
        "data-action": id,
        "aria-label": label,
        "aria-keyshortcuts": ariaKey(id),
      },
    },
    icon(sign),
  );
}
