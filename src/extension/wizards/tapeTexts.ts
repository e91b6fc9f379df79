import type { Localiser } from "../localiser";
import type { AskedMeasure } from "./wearerAnswers";

/** What a measure is called and how it is taken. */
export function tapeText(measure: AskedMeasure, l10n: Localiser): { title: string; how: string } {
  switch (measure) {
    case "girth":
      return {
        title: l10n.t("Head girth"),
        how: l10n.t(
          "Tape level over the brow, above the ears and around the widest back of the head; snug, not tight. A hat size such as US 7 1/4 will do.",
        ),
      };
    case "length":
      return {
        title: l10n.t("Head length"),
        how: l10n.t("Calipers from between the eyebrows to the farthest back of the head."),
      };
    case "breadth":
      return {
        title: l10n.t("Head breadth"),
        how: l10n.t("Calipers across the widest part of the head, above the ears."),
      };
    case "crownHeight":
      return {
        title: l10n.t("Crown height"),
        how: l10n.t(
          "Upright from the notch before the ear to the level of the top of the head: a book laid on it helps.",
        ),
      };
    case "hairThickness":
      return {
        title: l10n.t("Hair"),
        how: l10n.t("Room that the hair takes where it grows: 2 to 5 mm flat, 5 to 15 mm thick or braided."),
      };
    case "ease":
      return {
        title: l10n.t("Girth ease"),
        how: l10n.t("How much longer the inside of the piece is than the head's girth: usually 6 to 13 mm."),
      };
  }
}
