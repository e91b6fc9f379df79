import { escaped, table } from "./markdown";
import {
  type RefitTableRow,
  refitCells,
  refitChange,
  refitColumns,
  refitReason,
  refitSummary,
} from "./refitCells";

/** The table of a refit as Markdown, with what speaks against each row and what changed, then the cautions. */
export function refitMarkdown(rows: readonly RefitTableRow[], cautions: readonly string[]): string {
  const head = [...refitColumns, "What speaks against it", "Against the first wearer"];
  const cells = rows.map((row) => [...refitCells(row), refitReason(row) ?? "", refitChange(row) ?? ""]);
  const lines = [
    "# Refit",
    "",
    refitSummary(rows.map((row) => ({ ...row, kept: false }))),
    "",
    table(head, cells),
  ];
  if (cautions.length > 0) lines.push("", "## Cautions", "", ...cautions.map((text) => `- ${escaped(text)}`));
  return `${lines.join("\n")}\n`;
}
