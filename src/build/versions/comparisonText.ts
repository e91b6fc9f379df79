import picocolors from "picocolors";
import { textTable } from "../../export/textTable";
import type { Comparison } from "./comparison";
import { findingSentences, measurementRows, partRows, volumeRows } from "./comparisonRows";

/** So many parts are listed at a terminal. */
const mostParts = 24;

/** A comparison for a person at a terminal: the sentence first. Ends with a newline. */
export function comparisonText(comparison: Comparison, options: { readonly colour: boolean }): string {
  const paint = picocolors.createColors(options.colour);
  const { revision, sentence, parts, changes } = comparison;
  const commit = `${revision.asked} (${revision.hash.slice(0, 10)})`;
  const lines = [
    "",
    `  ${paint.bold(paint.cyan("Against"))} ${commit}: ${revision.subject}`,
    "",
    `  ${sentence}`,
  ];
  const section = (title: string, rows: readonly string[]) => {
    if (rows.length > 0) lines.push("", `  ${paint.bold(title)}`, ...rows.map((row) => `  ${row}`));
  };
  const measured = measurementRows(changes);
  if (measured.length > 0) {
    section("Measurements", textTable(["", "before", "now", "change"], measured.map(shortened)));
  }
  section("Solid", aligned(volumeRows(comparison)));
  const shown = aligned(partRows(parts.slice(0, mostParts)));
  if (parts.length > mostParts) shown.push(paint.dim(`and ${parts.length - mostParts} more`));
  section("Parts", shown);
  section("Findings", findingSentences(changes));
  return `${lines.join("\n")}\n`;
}

/** A column of a terminal holds no whole sentence. */
const shortened = (cells: readonly string[]): string[] =>
  cells.map((cell) => (cell.length > 48 ? `${cell.slice(0, 47)}…` : cell));

function aligned(rows: readonly (readonly string[])[]): string[] {
  const widths = (rows[0] ?? []).map((_, i) => Math.max(...rows.map((row) => row[i].length)));
  return rows.map((row) =>
    row
      .map((cell, i) => cell.padEnd(widths[i]))
      .join("  ")
      .trimEnd(),
  );
}
