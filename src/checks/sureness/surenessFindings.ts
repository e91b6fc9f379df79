import { errorOf, type KnownHead } from "../../head/knownHead";
import { measureName } from "../../head/measurementChecks";
import type { MeasureField } from "../../head/measurements";
import type { Limits } from "../../wearLimits";
import type { Finding } from "../finding";
import type { Sureness } from "./surenessResult";

/**
 * What is to be said of a chance below the limit: a warning where the girth itself is not exact, else a note, since the
 * piece is as good as the girth alone allows. Nothing where it does not fit her head as it is taken to be: other checks
 * say why.
 */
export function surenessFindings(
  { chance, tooTight, tooLoose, unsure, helps }: Omit<Sureness, "findings">,
  known: KnownHead,
  isFitOnHers: boolean,
  { surenessLeast }: Limits,
): Finding[] {
  const percent = Math.round(100 * chance);
  if (!isFitOnHers || percent >= surenessLeast.value) return [];
  const isGirthExact = errorOf(known, "girth") === 0;
  const more = tooTight >= tooLoose ? "tight" : "loose";
  return [
    {
      id: "unsure-fit",
      check: "sureness",
      severity: isGirthExact ? "note" : "warning",
      text: `it fits ${percent} % of the heads that she may have, for all that was measured; where it does not, it is mostly too ${more}`,
      suggestion: helps
        ? `measure the ${measureName(helps.field)} next and build anew: about ${Math.round(100 * helps.chance)} % are then to be expected`
        : `measure ${listed(unsure)} more exactly, or try the form on before it is printed`,
      value: percent,
      unit: "%",
      limit: { name: "surenessLeast", ...surenessLeast },
    },
  ];
}

const listed = (fields: readonly MeasureField[]): string => {
  const words = fields.map(measureName);
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
};
