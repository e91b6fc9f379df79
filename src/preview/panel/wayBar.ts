import { make, setAttribute, setText } from "./dom";
import { icon } from "./icons";
import type { WayShown } from "./wayPlayer";
import { wayText } from "./wearWords";

export interface WayBarEvents {
  /** Plays or stops. */
  toggle(): void;
  scrub(share: number): void;
  close(): void;
}

/** Plays, stops and moves the piece on its way on; shown while the way is. */
export function makeWayBar(events: WayBarEvents): {
  readonly element: HTMLElement;
  /** `words`: how it is put on. `isStill`: only the slider moves it. */
  update(shown: WayShown, words: string, isStill: boolean): void;
} {
  const play = make("button", { id: "way-play", class: "tool", attributes: { type: "button" } });
  const slider = make("input", {
    id: "way-share",
    attributes: { type: "range", min: 0, max: 100, step: 1, "aria-label": "Way on" },
  });
  const close = make(
    "button",
    {
      id: "way-close",
      class: "tool",
      title: "Put it back on",
      attributes: { type: "button", "aria-label": "Close the way on" },
    },
    icon("close"),
  );
  const told = make("p", { id: "way-words", class: "way-words" });
  const element = make(
    "div",
    {
      id: "way-bar",
      class: "way-bar",
      attributes: { role: "group", "aria-label": "Way on", hidden: true },
    },
    play,
    slider,
    close,
    told,
  );
  play.addEventListener("click", events.toggle);
  slider.addEventListener("input", () => events.scrub(slider.valueAsNumber / 100));
  close.addEventListener("click", events.close);
  let label = "";

  return {
    element,
    update({ isOpen, isPlaying, share }, words, isStill) {
      element.hidden = !isOpen;
      if (!isOpen) return;
      const wanted = isPlaying ? "Stop" : share >= 1 ? "Play again" : "Play";
      if (wanted !== label) {
        label = wanted;
        play.title = wanted;
        setAttribute(play, "aria-label", wanted);
        play.replaceChildren(icon(isPlaying ? "stop" : share >= 1 ? "back" : "play"));
      }
      play.hidden = isStill;
      slider.valueAsNumber = 100 * share;
      slider.style.setProperty("--filled", `${100 * share}%`);
      setAttribute(slider, "aria-valuetext", wayText(share));
      setText(told, words);
      told.hidden = words === "";
    },
  };
}
