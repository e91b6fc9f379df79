import type { PlanOrientation } from "../protocol";
import { make, setAttribute, setText } from "./dom";
import { icon } from "./icons";
import { svgPicture } from "./svgPicture";

interface Card {
  readonly element: HTMLElement;
  update(orientation: PlanOrientation, isOld: boolean): void;
}

/** A way up in words, as it is told to who does not see the card. */
export function orientationText({ name, words, figures, isChosen }: PlanOrientation): string {
  const told = figures.map(({ label, value, isBest }) => `${label} ${value}${isBest ? " (best)" : ""}`);
  return `${name}${isChosen ? ", chosen" : ""}: ${[words, ...told].filter((text) => text !== "").join(", ")}`;
}

/**
 * The ways up side by side, each with its picture and what it takes. A card that is clicked is written into the design;
 * what is best and what is chosen is told by a sign and a word, not by colour alone.
 */
export function makeOrientationCards(use: (orientation: PlanOrientation["orientation"]) => void): {
  readonly element: HTMLElement;
  update(orientations: readonly PlanOrientation[], isOld: boolean): void;
} {
  const title = make("h3", { id: "orientations-title", class: "plan-title", text: "Which way up" });
  const list = make("ul", {
    class: "orientations",
    attributes: { role: "list", "aria-labelledby": "orientations-title" },
  });
  const element = make("div", { id: "orientations" }, title, list);
  const cards: Card[] = [];
  return {
    element,
    update(orientations, isOld) {
      element.hidden = orientations.length === 0;
      while (cards.length > orientations.length) cards.pop()?.element.remove();
      while (cards.length < orientations.length) {
        const card = makeCard(use);
        cards.push(card);
        list.append(card.element);
      }
      for (const [i, orientation] of orientations.entries()) cards[i].update(orientation, isOld);
    },
  };
}

function makeCard(use: (orientation: PlanOrientation["orientation"]) => void): Card {
  const image = make("img", { class: "orientation-picture", attributes: { alt: "" } });
  const picture = svgPicture(image);
  const name = make("span", { class: "orientation-name" });
  const chosen = make(
    "span",
    { class: "orientation-chosen" },
    icon("check"),
    make("span", { text: "Chosen" }),
  );
  const words = make("span", { class: "orientation-words" });
  const figures = make("span", { class: "orientation-figures" });
  const button = make(
    "button",
    { class: "orientation", attributes: { type: "button" } },
    image,
    make("span", { class: "orientation-head" }, name, chosen),
    words,
    figures,
  );
  const element = make("li", {}, button);
  let shown: PlanOrientation | undefined;
  let wasOld: boolean | undefined;
  let content = "";
  button.addEventListener("click", () => {
    if (shown && !isOff()) use(shown.orientation);
  });
  const isOff = () => button.getAttribute("aria-disabled") === "true";
  return {
    element,
    update(orientation, isOld) {
      // Nothing of it is looked through again while it is the very same: a picture may be long.
      if (orientation === shown && isOld === wasOld) return;
      shown = orientation;
      wasOld = isOld;
      // What belongs to an older text is not written into the newer one; what is chosen is written already.
      setAttribute(button, "aria-disabled", orientation.isChosen || isOld ? "true" : undefined);
      const wanted = JSON.stringify([orientation, isOld]);
      if (wanted === content) return;
      content = wanted;
      const { isChosen } = orientation;
      button.classList.toggle("is-chosen", isChosen);
      setAttribute(button, "aria-pressed", String(isChosen));
      setAttribute(button, "aria-label", orientationText(orientation));
      button.title = isChosen
        ? "The piece is printed this way up"
        : isOld
          ? "This plan is older than the text"
          : `Print it this way up: writes the line “orientation” into the design`;
      chosen.hidden = !isChosen;
      setText(name, orientation.name);
      setText(words, orientation.words);
      picture.show(orientation.picture);
      image.hidden = orientation.picture === undefined;
      figures.replaceChildren(
        ...orientation.figures.map(({ label, value, isBest }) =>
          make(
            "span",
            { class: isBest ? "orientation-figure is-best" : "orientation-figure" },
            make("span", { class: "figure-label", text: label }),
            make("span", { class: "figure-value", text: value }),
            make("span", { class: "figure-best" }, isBest && icon("best")),
          ),
        ),
      );
    },
  };
}
