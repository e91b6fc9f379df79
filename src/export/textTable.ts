/** A table for a terminal: columns as wide as their widest cell, numbers (cells that begin with a digit) to the right. */
export function textTable(head: readonly string[], rows: readonly (readonly string[])[]): string[] {
  const widths = head.map((title, i) => Math.max(title.length, ...rows.map((row) => (row[i] ?? "").length)));
  const isNumber = head.map((_, i) => rows.some((row) => /^[+−-]?\d/.test(row[i] ?? "")) && i > 0);
  const line = (cells: readonly string[]) =>
    cells
      .map((cell, i) => (isNumber[i] ? cell.padStart(widths[i]) : cell.padEnd(widths[i])))
      .join("  ")
      .trimEnd();
  return [line(head), ...rows.map(line)];
}
