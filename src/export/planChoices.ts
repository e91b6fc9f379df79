import type { WhatIfRow, WhatIfTable } from "../print/whatIf/whatIf";
import type { WishAnswer } from "../print/whatIf/wishAnswer";
import { metresText } from "./durations";
import type { ReportPlan } from "./planReport";
import { hoursSentence, priceText } from "./planSentences";
import { textTable } from "./textTable";

/** The plan of one set of print settings beside others. */
export interface PrintComparison {
  readonly name: string;
  readonly plan: ReportPlan;
}

/** Sets of print settings side by side. */
export function comparisonLines(compared: readonly PrintComparison[]): string[] {
  const rows = compared.map(({ name, plan }) => [
    name,
    hoursSentence(plan),
    `${Math.round(plan.grams)} g`,
    metresText(plan.metres),
    String(plan.spools),
    plan.price === undefined ? "" : priceText(plan.price, plan.currency),
    plan.weakestArm ? plan.weakestArm.factor.toFixed(1) : "",
  ]);
  return [
    "",
    "  Print settings side by side",
    ...indented(textTable(["", "hours", "mass", "filament", "spools", "price", "weakest arm"], rows)),
  ];
}

/** What other settings and ways up would take, as a table of texts: its head, and a row each. */
export function whatIfCells(
  { rows }: WhatIfTable,
  currency?: string,
): { head: string[]; rows: { cells: string[]; isBase: boolean }[] } {
  const isPriced = rows.some(({ figures }) => figures.price !== undefined);
  return {
    head: ["change", "hours", "g", "m", ...(isPriced ? ["price"] : []), "spools", "weakest arm", ""],
    rows: rows.map((row) => ({
      isBase: row.kind === "base",
      cells: [
        row.kind === "base" ? "as set up" : row.words.replaceAll(/ instead of [^,]*/g, ""),
        row.figures.hours.toFixed(1),
        String(Math.round(row.figures.grams)),
        String(Math.round(row.figures.metres)),
        ...(isPriced ? [row.figures.price === undefined ? "" : priceText(row.figures.price, currency)] : []),
        String(row.figures.spools),
        row.figures.weakest ? row.figures.weakest.factor.toFixed(2) : "",
        markOf(row),
      ],
    })),
  };
}

const markOf = ({ isBest, fits }: WhatIfRow): string =>
  fits ? (isBest ? "nothing here is better in all" : "") : "does not fit";

export function whatIfLines(table: WhatIfTable, currency?: string): string[] {
  const { head, rows } = whatIfCells(table, currency);
  const marked = rows.map(({ cells, isBase }) => [`${isBase ? "›" : " "} ${cells[0]}`, ...cells.slice(1)]);
  return ["", "  What if", ...indented(textTable(head, marked))];
}

/** How a wish is met, or what comes nearest. */
export function wishLines(answer: WishAnswer): string[] {
  if (answer.outcome === "unknown") {
    return ["", ...answer.problems.map(({ text, suggestion }) => `  Wish: ${text} (${suggestion})`)];
  }
  return [
    "",
    `  Wish: ${answer.words}`,
    ...(answer.choice.line === "" ? [] : [`  Write into the design: ${answer.choice.line}`]),
    ...(answer.outcome === "impossible" ? answer.remedies.map((remedy) => `  · ${remedy}`) : []),
  ];
}

const indented = (lines: readonly string[]): string[] => lines.map((line) => `  ${line}`);
