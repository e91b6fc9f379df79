import { make } from "./dom";
import { svgPicture } from "./svgPicture";

/** The plot of the visual field, in a fold of its own. */
export function makeSightPlot(): {
  readonly element: HTMLElement;
  readonly isOpen: boolean;
  toggle(): void;
  update(svg: string | undefined, isOld: boolean): void;
} {
  const image = make("img", { id: "sight-image", attributes: { alt: "" } });
  const element = make(
    "figure",
    { id: "sight-plot", class: "sight-plot", attributes: { hidden: true } },
    image,
  );
  const picture = svgPicture(image);
  let isOpen = false;
  let isKnown = false;
  const paint = () => {
    element.hidden = !isOpen || !isKnown;
  };
  return {
    element,
    get isOpen() {
      return isOpen;
    },
    toggle() {
      isOpen = !isOpen;
      paint();
      if (!element.hidden) element.scrollIntoView({ block: "nearest" });
    },
    update(svg, isOld) {
      element.classList.toggle("is-old", isOld);
      isKnown = svg !== undefined;
      if (picture.show(svg)) image.alt = svg === undefined ? "" : described(svg);
      paint();
    },
  };
}

/** What the plot says of itself in its description, as text. */
export function described(svg: string): string {
  const page = new DOMParser().parseFromString(svg, "image/svg+xml");
  const text = page.querySelector("desc")?.textContent?.trim().replaceAll(/\s+/g, " ") ?? "";
  return text === "" ? "Polar plot of what is seen past the piece" : text;
}
