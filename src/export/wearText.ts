import type picocolors from "picocolors";
import type { Finding } from "../checks/finding";
import { verdictTitles } from "../checks/verdict";
import type { Message } from "../message";
import type { ReportWear } from "./wearReport";
import { wearLines, withUnit } from "./wearSentences";

/** Colours for a terminal, or none. */
export type Paint = ReturnType<typeof picocolors.createColors>;

/** Fit and wear for a person at a terminal: the verdict, the answers, what was found. */
export function wearTextLines(wear: ReportWear, paint: Paint): string[] {
  const { verdict, reasons, findings, limitsSet } = wear;
  const lines = [`  ${verdictPaint(paint)[verdict](paint.bold(verdictTitles[verdict]))}`];
  for (const reason of reasons.slice(0, mostReasons)) lines.push(`    because ${reason}`);
  if (reasons.length > mostReasons) lines.push(`    and ${reasons.length - mostReasons} more, below`);
  lines.push("");
  for (const { label, value, tone } of wearLines(wear)) {
    lines.push(`  ${toneMarks(paint)[tone]} ${paint.dim(label.padEnd(15))} ${value}`);
  }
  if (findings.length > 0) lines.push("");
  for (const finding of findings) lines.push(...messageLines(finding, paint));
  const set = Object.entries(limitsSet);
  if (set.length > 0) {
    const listed = set.map(([name, { value, by }]) => `${name} ${value} (${by})`).join(", ");
    lines.push("", `  ${paint.dim(`limits set: ${listed}`)}`);
  }
  return lines;
}

const mostReasons = 3;

const verdictPaint = ({ green, yellow, red }: Paint) => ({ wear: green, adjust: yellow, dont: red });

/** How an answer stands, told by a sign and not by its colour alone. */
export const toneMarks = ({ green, yellow, red, blue }: Paint) => ({
  good: green("✓"),
  note: blue("i"),
  warning: yellow("!"),
  bad: red("✗"),
});

/** A message with its place, what to do, and the limit that it was held against. */
export function messageLines(
  message: Message & Partial<Pick<Finding, "limit" | "unit">>,
  paint: Paint,
): string[] {
  const tint = { error: paint.red, warning: paint.yellow, note: paint.blue }[message.severity];
  const place = message.file === undefined ? "" : ` ${message.file}:${message.line ?? 1}`;
  const { limit, unit } = message;
  return [
    `  ${tint(message.severity)}${place}: ${message.text}`,
    ...(message.suggestion === undefined ? [] : [`    ${paint.dim(message.suggestion)}`]),
    ...(limit ? [`    ${paint.dim(`limit: ${withUnit(limit.value, unit)} (${limit.source})`)}`] : []),
  ];
}
