import { withUnit } from "../../export/changes/figureChange";
import { verdictWords } from "../../export/changes/wordChanges";
import { hoursAndMinutes } from "../../export/durations";
import type { ReportChange } from "../../export/reportChanges";
import { rounded } from "../../export/rounding";
import type { Comparison, PartChange } from "./comparison";

/** Measurements side by side, a row each: what, before, now, change. */
export function measurementRows(changes: readonly ReportChange[]): string[][] {
  return changes
    .filter(({ key }) => !key.startsWith("parts.") && !key.startsWith("findings."))
    .map((change) => [change.label, textOf(change, change.before), textOf(change, change.after), by(change)]);
}

/** Findings that came and went, a sentence each. */
export const findingSentences = (changes: readonly ReportChange[]): string[] =>
  changes.filter(({ key }) => key.startsWith("findings.")).map(({ sentence }) => sentence);

/** Parts: name, what became of it, how. */
export const partRows = (parts: readonly PartChange[]): string[][] =>
  parts.map(({ name, change, what, was }) => [name, was === undefined ? change : "renamed", what.join("; ")]);

/** Volumes and distance, a row each: what, how much. */
export function volumeRows({
  added,
  removed,
  greatestDistance,
  greatestAt,
  greatestWithin,
}: Comparison): string[][] {
  const at = greatestAt.map((value) => rounded(value, 1)).join(", ");
  const within = greatestWithin === undefined ? "" : `, right to ${greatestWithin} mm`;
  return [
    ["volume added", cubic(added)],
    ["volume removed", cubic(removed)],
    [
      "greatest distance of the surfaces",
      greatestDistance > 0 ? `${greatestDistance.toFixed(2)} mm at ${at}${within}` : "0 mm",
    ],
  ];
}

/** Volumes below a cubic centimetre in mm³, since that is what small changes come to. Of mm³. */
function cubic(volume: number): string {
  return volume < 1000 ? `${rounded(volume, 1)} mm³` : `${rounded(volume / 1000, 2)} cm³`;
}

function textOf({ key, unit }: ReportChange, value: string | number | boolean | undefined): string {
  if (value === undefined) return "–";
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "string") return key === "wear.verdict" ? verdictWords[value] : value;
  return unit === "h" ? hoursAndMinutes(3600 * value) : withUnit(value, unit);
}

function by({ unit, before, after }: ReportChange): string {
  if (typeof before !== "number" || typeof after !== "number") return "";
  const difference = rounded(after - before, 3);
  const sign = difference < 0 ? "−" : "+";
  const size = Math.abs(difference);
  const share = before > 0 ? ` (${sign}${((100 * size) / before).toFixed(1)} %)` : "";
  return `${sign}${unit === "h" ? hoursAndMinutes(3600 * size) : withUnit(size, unit)}${share}`;
}
