import { make, setText } from "./dom";
import { icon } from "./icons";
import { svgPicture } from "./svgPicture";

/** The drawing sheet, for a window that cannot draw the picture. */
export function makeSheetView(): {
  readonly element: HTMLElement;
  /** `words`: the picture in words, as the sheet's text alternative. */
  update(svg: string | undefined, words: string): void;
} {
  const image = make("img", { id: "sheet-image", attributes: { alt: "" } });
  const waiting = make("p", {
    class: "empty",
    text: "The drawing sheet appears here once the piece is built.",
  });
  const element = make(
    "div",
    {
      id: "sheet",
      class: "sheet",
      // It scrolls, also by keys.
      attributes: { hidden: true, role: "region", tabindex: 0, "aria-label": "Drawing sheet" },
    },
    make(
      "div",
      { class: "sheet-told", attributes: { role: "note" } },
      icon("note"),
      make("p", {
        text: "This window has no WebGL 2, so the piece cannot be drawn in three dimensions. The drawing sheet is shown instead; all else works as usual.",
      }),
    ),
    image,
    waiting,
  );
  const picture = svgPicture(image);
  return {
    element,
    update(svg, words) {
      image.hidden = svg === undefined;
      waiting.hidden = svg !== undefined;
      image.alt = words === "" ? "Drawing sheet" : `Drawing sheet. ${words}`;
      picture.show(svg);
    },
  };
}

/** Said in the picture where there is nothing to see yet. */
export function makePlaceholder(): {
  readonly element: HTMLElement;
  /** `hasHead`: the head stands in the picture already, so that the words keep below it. */
  update(text: string | undefined, hasHead: boolean): void;
} {
  const words = make("p");
  const element = make("div", { id: "placeholder", class: "placeholder" }, icon("crown"), words);
  return {
    element,
    update(text, hasHead) {
      element.classList.toggle("is-below", hasHead);
      element.hidden = text === undefined;
      if (text !== undefined) setText(words, text);
    },
  };
}
