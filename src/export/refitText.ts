import picocolors from "picocolors";
import {
  type RefitTableRow,
  refitCells,
  refitChange,
  refitColumns,
  refitReason,
  refitSummary,
} from "./refitCells";
import { textTable } from "./textTable";

/**
 * The table of a refit for a person at a terminal, then what speaks against rows and what changed against the first of
 * their design, then the cautions. Plain text without colour; ends with a newline.
 */
export function refitText(
  rows: readonly RefitTableRow[],
  cautions: readonly string[],
  options: { readonly colour: boolean },
): string {
  const paint = picocolors.createColors(options.colour);
  const [head, ...body] = textTable(refitColumns, rows.map(refitCells));
  const tone = ({ passes, verdict }: RefitTableRow) =>
    !passes ? paint.red : verdict === "adjust" ? paint.yellow : paint.green;
  const lines = ["", `  ${paint.bold(head)}`, ...body.map((line, i) => `  ${tone(rows[i])(line)}`)];
  const section = (title: string, textOf: (row: RefitTableRow) => string | undefined) => {
    const told = rows.flatMap((row) => {
      const text = textOf(row);
      return text === undefined ? [] : [`  ${paint.dim(`${row.headpiece}, ${row.wearerName}:`)} ${text}`];
    });
    if (told.length > 0) lines.push("", `  ${paint.bold(title)}`, ...told);
  };
  section("What speaks against it", refitReason);
  section("Against the first wearer of the design", refitChange);
  lines.push("", `  ${refitSummary(rows)}`);
  if (cautions.length > 0)
    lines.push("", `  ${paint.bold("Cautions")}`, ...cautions.map((text) => `  - ${text}`));
  return `${lines.join("\n")}\n`;
}
