import type { SectionPlane } from "../pieceView";
import { make, setAttribute, setText } from "./dom";

export const sectionAxes = ["right", "forward", "up"] as const satisfies readonly SectionPlane["axis"][];

/** Where a section lies when it is switched on first: half the head, seen from the side. */
export const firstSection: SectionPlane = { axis: "right", share: 0.5 };

/** The axis after this one. */
export const nextAxis = (axis: SectionPlane["axis"]): SectionPlane["axis"] =>
  sectionAxes[(sectionAxes.indexOf(axis) + 1) % sectionAxes.length];

/** The plane moved by a share of the piece's extent, held within the piece. */
export const movedSection = (section: SectionPlane, by: number): SectionPlane => ({
  ...section,
  share: Math.round(Math.min(1, Math.max(0, section.share + by)) * 1000) / 1000,
});

const words: Record<SectionPlane["axis"], { readonly label: string; readonly help: string }> = {
  right: { label: "Across", help: "The plane moves from the wearer's left to the right" },
  forward: { label: "Front to back", help: "The plane moves from the back to the front" },
  up: { label: "Height", help: "The plane moves from below to above" },
};

/** Axis and place of the section plane; shown while there is one. */
export function makeSectionBar(change: (section: SectionPlane) => void): {
  readonly element: HTMLElement;
  update(section: SectionPlane | undefined): void;
} {
  let shown = firstSection;
  const radios = sectionAxes.map((axis) =>
    make("input", {
      id: `section-axis-${axis}`,
      attributes: { type: "radio", name: "section-axis", value: axis },
    }),
  );
  const slider = make("input", {
    id: "section-share",
    attributes: { type: "range", min: 0, max: 100, step: 0.5, "aria-label": "Place of the section" },
  });
  const percent = make("span", { class: "section-percent", attributes: { "aria-hidden": "true" } });
  const element = make(
    "div",
    {
      id: "section-bar",
      class: "section-bar",
      attributes: { role: "group", "aria-label": "Section plane", hidden: true },
    },
    make(
      "div",
      { class: "segments", attributes: { role: "radiogroup", "aria-label": "Axis of the section" } },
      ...sectionAxes.map((axis, i) =>
        make(
          "label",
          { class: "segment", title: words[axis].help },
          radios[i],
          make("span", { text: words[axis].label }),
        ),
      ),
    ),
    slider,
    percent,
  );
  radios.forEach((radio, i) => {
    radio.addEventListener("change", () => change({ ...shown, axis: sectionAxes[i] }));
  });
  slider.addEventListener("input", () => change({ ...shown, share: slider.valueAsNumber / 100 }));

  return {
    element,
    update(section) {
      element.hidden = section === undefined;
      if (section === undefined) return;
      shown = section;
      radios.forEach((radio, i) => {
        radio.checked = sectionAxes[i] === section.axis;
      });
      slider.valueAsNumber = section.share * 100;
      setText(percent, `${Math.round(section.share * 100)} %`);
      setAttribute(slider, "aria-valuetext", `${Math.round(section.share * 100)} percent`);
    },
  };
}
