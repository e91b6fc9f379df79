import type { Orientation } from "../../orientation";
import { type PrintSettingName, type PrintSettings, printSettingNames } from "../../printSettings";
import type { OrientationCandidate, Variant } from "./variant";

/** What differs between two ways of printing: names of settings in their own order, which way up last. */
export function changedNames(base: Variant, variant: Variant): (PrintSettingName | "orientation")[] {
  const names: (PrintSettingName | "orientation")[] = printSettingNames.filter(
    (name) => base.settings[name] !== variant.settings[name],
  );
  return base.orientation === variant.orientation ? names : [...names, "orientation"];
}

/**
 * What is printed otherwise, as a person says it: "layers of 0.28 mm instead of 0.2, 2 shells instead of 3, infill 10 %
 * instead of 15"; "nothing changed" where it is the same.
 */
export function changeWords(
  base: Variant,
  variant: Variant,
  candidates: readonly OrientationCandidate[],
): string {
  const words = changedNames(base, variant).map((name) => {
    if (name === "orientation") {
      const { name: now } = candidateOf(variant, candidates);
      return `the way up "${now}" instead of "${candidateOf(base, candidates).name}"`;
    }
    return settingWords(name, variant.settings[name], base.settings[name]);
  });
  return words.length > 0 ? words.join(", ") : "nothing changed";
}

function settingWords(name: PrintSettingName, now: number, before: number): string {
  const counted = (one: string, many: string) => `${now} ${now === 1 ? one : many} instead of ${before}`;
  const measured = (what: string, unit: string) => `${what} ${now} ${unit} instead of ${before}`;
  switch (name) {
    case "layerHeight":
      return measured("layers of", "mm");
    case "lineWidth":
      return measured("lines of", "mm");
    case "shells":
      return counted("shell", "shells");
    case "topLayers":
      return counted("top layer", "top layers");
    case "bottomLayers":
      return counted("bottom layer", "bottom layers");
    case "infill":
      return measured("infill", "%");
    case "supportShare":
      return measured("supports filled to", "%");
    case "contactLayers":
      return counted("contact layer", "contact layers");
    case "contactShare":
      return measured("contact layers filled to", "%");
    case "overhangAngle":
      return measured("supports from", "°");
    case "supportGap":
      return measured("a support gap of", "mm");
    case "brimWidth":
      return measured("a brim of", "mm");
    case "leastLayerTime":
      return measured("at least", "s a layer");
    case "primerCoverage":
      return measured("primer for", "m²/l");
    case "primerCoats":
      return counted("coat of primer", "coats of primer");
    case "paintCoverage":
      return measured("paint for", "m²/l");
    case "paintCoats":
      return counted("coat of paint", "coats of paint");
  }
}

/** What of the print is to be written otherwise: changed settings, and which way up where that changed. */
export function changedPrint(
  base: Variant,
  variant: Variant,
  candidates: readonly OrientationCandidate[],
): Partial<PrintSettings> & { readonly orientation?: Orientation } {
  return Object.fromEntries(
    changedNames(base, variant).map((name) => [
      name,
      name === "orientation"
        ? wholeDegrees(candidateOf(variant, candidates).orientation)
        : variant.settings[name],
    ]),
  );
}

/** The option of `headpiece(…)` that makes the change: `print: { layerHeight: 0.28, shells: 2 }`; empty for none. */
export function changeLine(
  base: Variant,
  variant: Variant,
  candidates: readonly OrientationCandidate[],
): string {
  const written = (value: unknown): string =>
    typeof value === "object" && value !== null
      ? `{ ${Object.entries(value)
          .map(([name, inner]) => `${name}: ${written(inner)}`)
          .join(", ")} }`
      : String(value);
  const print = changedPrint(base, variant, candidates);
  return Object.keys(print).length > 0 ? `print: ${written(print)}` : "";
}

// Adding 0 makes −0 plain.
const wholeDegrees = ({ tilt, towards, turn }: Orientation): Orientation => ({
  tilt: Math.round(tilt) + 0,
  towards: Math.round(towards) + 0,
  turn: Math.round(turn) + 0,
});

export function candidateOf(
  { orientation }: Variant,
  candidates: readonly OrientationCandidate[],
): OrientationCandidate {
  const candidate = candidates[orientation];
  if (!candidate) {
    throw new RangeError(
      `There is no way up number ${orientation}: ${candidates.length} are given, counted from 0.`,
    );
  }
  return candidate;
}
