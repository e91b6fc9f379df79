import type { Material } from "../checks/material";
import type { Place } from "../message";
import type { PlatePrint } from "./plan";
import type { PlanFinding } from "./planFinding";

/** Tells where spools end while plates are printed one after the other: somebody has to stand by. */
export function spoolFindings(
  plates: readonly { readonly totals: Pick<PlatePrint["totals"], "spoolEnds" | "grams"> }[],
  { spool, name }: Pick<Material, "spool" | "name">,
  origin?: Place,
): PlanFinding[] {
  const places = plates.flatMap(({ totals }, plate) =>
    totals.spoolEnds.map(({ layer, height, hours }) => {
      const where = plates.length > 1 ? `on plate ${plate + 1} ` : "";
      return `${where}in layer ${layer + 1}, ${height.toFixed(1)} mm up, after ${Math.round(hours * 10) / 10} h`;
    }),
  );
  if (places.length === 0) return [];
  const grams = plates.reduce((sum, { totals }) => sum + totals.grams, 0);
  return [
    {
      id: "spool-ends",
      topic: "filament",
      severity: "note",
      text:
        `${Math.round(grams)} g of ${name} are more than a spool of ${spool} g: ` +
        `${places.length === 1 ? "it ends" : "spools end"} ${places.join("; ")}`,
      suggestion: "have the next spool at hand, dry, and be there; or look for a way to print it with less",
      value: grams,
      unit: "g",
      limit: { name: "spool", value: spool, source: "the material's file" },
      ...origin,
    },
  ];
}
