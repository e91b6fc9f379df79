import type { Material } from "../checks/material";
import type { Place } from "../message";
import type { LayerTotals } from "./layers/filament";
import type { PlanFinding } from "./planFinding";

/** Tells where spools end while a plate is printed: somebody has to stand by. */
export function spoolFindings(
  { spoolEnds, grams }: Pick<LayerTotals, "spoolEnds" | "grams">,
  { spool, name }: Pick<Material, "spool" | "name">,
  origin?: Place,
): PlanFinding[] {
  if (spoolEnds.length === 0) return [];
  const places = spoolEnds.map(
    ({ layer, height, hours }) =>
      `in layer ${layer + 1}, ${height.toFixed(1)} mm up, after ${Math.round(hours * 10) / 10} h`,
  );
  return [
    {
      id: "spool-ends",
      topic: "filament",
      severity: "note",
      text:
        `${Math.round(grams)} g of ${name} are more than a spool of ${spool} g: ` +
        `${spoolEnds.length === 1 ? "it ends" : "spools end"} ${places.join("; ")}`,
      suggestion: "have the next spool at hand, dry, and be there; or look for a way to print it with less",
      value: grams,
      unit: "g",
      limit: { name: "spool", value: spool, source: "the material's file" },
      ...origin,
    },
  ];
}
