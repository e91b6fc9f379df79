import type { Material } from "./material";

/** What the cautions depend on, as far as it is known. */
export interface CautionInput {
  readonly material: Pick<Material, "name" | "softening">;
  /** Printed mass, g. */
  readonly mass: number;
  /** How far the piece reaches above the crown of the head, mm; absent: not known. */
  readonly aboveCrown?: number;
  /** Parts that end in a tip, with the radius of the tip, mm. */
  readonly tips?: readonly { readonly part: string; readonly radius: number }[];
  /** The wearer is a child. */
  readonly child?: boolean;
}

/** What holds for every headpiece, and whatever is said of one. */
export const COSTUME_CAUTION = "This is costume, not protective equipment: it guards against nothing.";

/** From here on a piece is heavy enough that its mass gets a stronger word, g. Common practice, no source. */
const heavy = 500;
/** Tips with a smaller radius are named, mm. Common practice, no source. */
const sharp = 1.5;
/** Over the crown by this much, doorways and lamps are within reach, mm. Common practice, no source. */
const tall = 200;

/**
 * The cautions that belong beside every result, as short sentences, the most general first.
 *
 * Heat: parked car cabins reach 41 to 76 °C (Grundstein, Meentemeyer, Dowd 2009, "Maximum vehicle cabin temperatures
 * under different meteorological conditions", International Journal of Biometeorology 53). Small parts: 31.7 mm
 * cylinder, 16 CFR 1501.4.
 */
export function cautions(input: CautionInput): string[] {
  const { material, mass } = input;
  const [softensFrom, softensTo] = material.softening;
  const softens =
    softensFrom === softensTo ? `near ${softensFrom} °C` : `at ${softensFrom} to ${softensTo} °C`;
  const inCar = softensFrom <= 76 ? "; a parked car reaches 41 to 76 °C: never leave it there" : "";
  const pointed = (input.tips ?? []).filter((tip) => tip.radius < sharp);
  return [
    COSTUME_CAUTION,
    mass >= heavy
      ? `Its ${Math.round(mass)} g rest on the neck: wear it briefly at first, take it off between scenes, stop at any ache.`
      : `Its ${Math.round(mass)} g rest on the neck: take it off when it aches.`,
    pointed.length > 0
      ? `Sharp tips: ${listed(pointed.map((tip) => `${tip.part} (radius ${plain(tip.radius)} mm)`))}. Blunt them, and keep them from eyes.`
      : "Feel every tip and edge with a finger, blunt what pricks, and keep tips from eyes.",
    `${material.name} softens ${softens}${inCar}.`,
    "It burns: keep it from flames, lamps and hot air.",
    "It may cover sight and hearing: walk the stage and the stairs with it before the evening.",
    ...(input.aboveCrown !== undefined && input.aboveCrown >= tall
      ? [`It stands ${Math.round(input.aboveCrown)} mm above the head: mind doorways, lamps and curtains.`]
      : []),
    input.child === true
      ? "The wearer is a child: an adult stays near, and nothing that can come off may be small enough to swallow."
      : "Small parts can come off: keep it from small children.",
    "Local rules for stage, fire and toys come first, and so does the word of qualified people.",
  ];
}

const plain = (value: number): string => String(Math.round(value * 100) / 100);

function listed(names: readonly string[]): string {
  const shown = names.length > 4 ? [...names.slice(0, 3), `${names.length - 3} more`] : names;
  return shown.length < 2 ? shown.join("") : `${shown.slice(0, -1).join(", ")} and ${shown.at(-1)}`;
}
