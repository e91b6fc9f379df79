import { planLines } from "../../export/planSentences";
import type { DesignState } from "../designState";
import type { Localiser } from "../localiser";
import { designFigures, findingsText } from "./designFigures";

/** What a design in error is said to have, in a few words: `2 errors, 1 warning`. */
export const failureText = ({ messages }: Pick<DesignState, "messages">, l10n: Localiser): string =>
  findingsText(messages, l10n) || l10n.t("failed");

/** What of a print's plan a tooltip tells. */
const toldOfPlan: ReadonlySet<string> = new Set(["Hours", "Filament", "Spools", "Supports"]);

/** What every tooltip of a design tells of its last good result: label and value, as far as known. */
export function resultRows(state: DesignState, l10n: Localiser): [label: string, value: string][] {
  const { facts, report } = state;
  const { mass, box, fit, verdict } = designFigures(state, l10n);
  const rows: [string, string][] = [];
  const wearer = facts?.wearer ?? report?.wearer;
  if (wearer) rows.push([l10n.t("Wearer"), wearer]);
  if (mass) rows.push([l10n.t("Mass"), l10n.t("{0} printed", mass)]);
  if (box) rows.push([l10n.t("Box"), box]);
  if (fit) {
    const words = [fit.printer, fit.short, fit.long].filter((text) => text !== "");
    rows.push([l10n.t("Plate"), words.join(", ")]);
  }
  if (verdict)
    rows.push([
      l10n.t("Verdict"),
      [verdict.short, verdict.reason].filter((text) => text !== undefined).join(": "),
    ]);
  if (report?.plan) {
    const told = planLines(report.plan).filter(({ label }) => toldOfPlan.has(label));
    rows.push(...told.map(({ label, value }): [string, string] => [label, value]));
  } else if (report) {
    rows.push([l10n.t("Filament"), l10n.t("{0} m of {1}", report.filamentM, report.material.name)]);
  }
  return rows;
}
