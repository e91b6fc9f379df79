import picocolors from "picocolors";
import type { Report } from "./report";
import { measureSentence } from "./reportSentences";
import { wearTextLines } from "./wearText";

/**
 * The answer of a check for a person at a terminal: for whom, the verdict and why, what was found, the cautions. Ends
 * with a newline.
 */
export function checkText(report: Report, options: { readonly colour: boolean }): string {
  const paint = picocolors.createColors(options.colour);
  const { girth } = report.head;
  return [
    "",
    `  ${paint.bold(paint.cyan(report.headpiece))} for ${report.wearer}${girth ? `, girth ${measureSentence(girth)}` : ""}`,
    "",
    ...(report.wear ? wearTextLines(report.wear, paint) : []),
    "",
    `  ${paint.bold("Take care")}`,
    ...report.cautions.map((caution) => `  · ${caution}`),
    "",
  ].join("\n");
}
