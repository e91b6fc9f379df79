import { escaped, table } from "../../export/markdown";
import type { Comparison } from "./comparison";
import { findingSentences, measurementRows, partRows, volumeRows } from "./comparisonRows";

/** So many parts are listed; a comment has to be read. */
const mostParts = 60;

/**
 * A comparison as a comment holds it: the sentence, then tables.
 * @param name what the design is called
 */
export function comparisonMarkdown(comparison: Comparison, name: string): string {
  const { revision, sentence, parts, changes } = comparison;
  const commit = `${escaped(revision.asked)} (\`${revision.hash.slice(0, 10)}\`)`;
  const blocks = [
    `### ${escaped(name)} against ${commit}`,
    `**${escaped(sentence)}**`,
    ...withRows(["Measurement", "Before", "Now", "Change"], measurementRows(changes)),
    ...withRows(["Solid", ""], volumeRows(comparison)),
    ...withRows(["Part", "", "What"], partRows(parts.slice(0, mostParts))),
    ...(parts.length > mostParts ? [`and ${parts.length - mostParts} more parts`] : []),
  ];
  const findings = findingSentences(changes).map((text) => `- ${escaped(text)}`);
  if (findings.length > 0) blocks.push(findings.join("\n"));
  return `${blocks.join("\n\n")}\n`;
}

const withRows = (head: readonly string[], rows: readonly (readonly string[])[]): string[] =>
  rows.length > 0 ? [table(head, rows)] : [];
