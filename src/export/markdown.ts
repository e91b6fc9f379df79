import type { Finding } from "../checks/finding";
import type { Message } from "../message";
import { withUnit } from "./wearSentences";

/** A table: its head, then its rows. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), `|${"---|".repeat(head.length)}`, ...rows.map((row) => line(row.map(escaped)))].join(
    "\n",
  );
}

/** Text whose characters mean nothing to Markdown; emphasis of ours (`**`) is kept. */
export const escaped = (text: string): string => text.replace(/([|`<>[\]_])/g, "\\$1").replace(/\s+/g, " ");

/** Messages as a list, each with its place, its limit and what to do. */
export const messageList = (
  messages: readonly (Message & Partial<Pick<Finding, "limit" | "unit">>)[],
): string =>
  messages
    .map(({ severity, text, suggestion, file, line, limit, unit }) => {
      const place = file === undefined ? "" : ` (${file}:${line ?? 1})`;
      const held = limit ? `; limit ${withUnit(limit.value, unit)}, ${limit.source}` : "";
      const more = `${suggestion ?? ""}${held}`.replace(/^; /, "");
      return `- **${severity}**${escaped(place)}: ${escaped(text)}${more === "" ? "" : ` (${escaped(more)})`}`;
    })
    .join("\n");
