/** Text whose characters mean nothing to Markdown, on one line. */
export const plainMarkdown = (text: string): string =>
  text.replace(/[\\`*_{}[\]<>#|~$]/g, "\\$&").replace(/\s+/g, " ");

/** A table of two columns without a head, or nothing where there are no rows. */
export function markdownRows(rows: readonly (readonly [label: string, value: string])[]): string {
  if (rows.length === 0) return "";
  const lines = rows.map(([label, value]) => `| ${plainMarkdown(label)} | ${plainMarkdown(value)} |`);
  return ["| | |", "|---|---|", ...lines].join("\n");
}
