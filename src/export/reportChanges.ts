import { figureChange } from "./changes/figureChange";
import { massAndHours, printFigures, sizeAndFit, wornFigures } from "./changes/figures";
import { findingChanges } from "./changes/findingChanges";
import { inputChanges } from "./changes/inputChanges";
import type { ReportChange } from "./changes/reportChange";
import {
  nameChanges,
  orientationChange,
  partChanges,
  plateChanges,
  verdictChange,
  wayOnChanges,
} from "./changes/wordChanges";
import type { Report } from "./report";
import { counted } from "./reportSentences";

export type { ReportChange } from "./changes/reportChange";

/**
 * What differs between two reports on a piece, the most telling first, always in the same order; nothing for the same
 * piece. What may be rounding alone does not count. A report of an older version of the tool may lack figures.
 */
export function reportChanges(before: Report, after: Report): readonly ReportChange[] {
  const figures = (list: typeof massAndHours) =>
    list.flatMap((figure) => figureChange(figure, before, after) ?? []);
  return [
    ...nameChanges(before, after),
    ...figures(massAndHours),
    ...partChanges(before, after),
    ...verdictChange(before, after),
    ...figures(sizeAndFit),
    ...wayOnChanges(before, after),
    ...plateChanges(before, after),
    ...figures(wornFigures),
    ...figures(printFigures),
    ...orientationChange(before, after),
    ...inputChanges(before, after),
    ...findingChanges(before, after),
  ];
}

/** Changes that a sentence names before all others, and in this order. */
const first = ["headpiece", "wearer", "massPrintedG", "plan.hours", "parts.", "wear.verdict"];

/**
 * The changes as one sentence, the most telling ones named and the rest counted: "heavier by 19 g (412 → 431 g) and 2 h
 * longer to print; 1 tube added (branch 10); verdict now adjust"; "nothing that is measured changed".
 * @param most so many clauses; mass and hours are one
 */
export function changesSentence(changes: readonly ReportChange[], most = 4): string {
  if (changes.length === 0) return "nothing that is measured changed";
  const rank = ({ key }: ReportChange) => {
    const found = first.findIndex((name) => key === name || (name.endsWith(".") && key.startsWith(name)));
    return found < 0 ? first.length : found;
  };
  const clauses = massWithHours([...changes].sort((a, b) => rank(a) - rank(b)));
  // The verdict is never among those that are only counted.
  const verdict = clauses.findIndex(({ key }) => key === "wear.verdict");
  if (verdict >= most && most > 0) clauses.splice(most - 1, 0, ...clauses.splice(verdict, 1));
  const named = clauses.slice(0, most);
  const left = changes.length - named.reduce((sum, { count }) => sum + count, 0);
  const all = named.map(({ text }) => text);
  if (left > 0) all.push(`${counted(left, "further change")}`);
  return all.join("; ");
}

interface Clause {
  readonly key: string;
  readonly text: string;
  /** Changes that it tells. */
  readonly count: number;
}

function massWithHours(changes: readonly ReportChange[]): Clause[] {
  const clauses: Clause[] = [];
  for (const { key, short, sentence } of changes) {
    const text = short ?? sentence;
    const last = clauses.at(-1);
    if (key === "plan.hours" && last?.key === "massPrintedG") {
      clauses[clauses.length - 1] = { key, text: `${last.text} and ${text}`, count: last.count + 1 };
    } else clauses.push({ key, text, count: 1 });
  }
  return clauses;
}
