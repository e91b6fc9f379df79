import { verdictTitles } from "../../checks/verdict";
import { planLines } from "../../export/planSentences";
import type { Report } from "../../export/report";
import { inWords, measureSentence, plateSentence, plateSize } from "../../export/reportSentences";
import { wearLines } from "../../export/wearSentences";
import type { Message } from "../../message";

/** What a build gave, as a tool returns it: the same report as the command line's JSON. */
export interface ToolBuild {
  readonly ok: boolean;
  readonly messages: readonly Message[];
  readonly report: Report | null;
}

/** The JSON that both tools return. */
export const resultJson = ({ ok, messages, report }: ToolBuild): string =>
  JSON.stringify({ ok, messages, report }, undefined, 2);

/** The fit in plain sentences, one a line: who, ease, measures, plate, what was found. */
export function fitExplanation({ messages, report }: ToolBuild): string {
  const found = messages
    .filter(({ severity }) => severity !== "note")
    .map(({ severity, text, suggestion }) => `- ${severity}: ${text}${suggestion ? ` (${suggestion})` : ""}`);
  const findings = found.length > 0 ? ["Found:", ...found] : ["No errors or warnings were found."];
  if (!report) return ["The design does not build, so there is no fit to explain.", ...findings].join("\n");
  const measures = Object.entries(report.head);
  const sentence = ([name, measure]: (typeof measures)[number]) =>
    `${inWords(name)} ${measureSentence(measure)}`;
  const taken = measures.filter(([, { source }]) => source !== "estimated").map(sentence);
  const estimated = measures.filter(([, { source }]) => source === "estimated").map(sentence);
  return [
    `${report.headpiece} is fitted to ${report.wearer}.`,
    `Between head and piece there are ${report.easeOffsetMm} mm all round, that is ${report.girthEaseMm} mm of girth, and ${report.hairMm} mm more where hair grows.`,
    taken.length > 0 ? `Measured: ${taken.join("; ")}.` : "No measure was taken.",
    ...(estimated.length > 0
      ? [`Estimated from the others, so to be checked on the wearer: ${estimated.join("; ")}.`]
      : []),
    ...report.plates.map(
      (plate) =>
        `On ${plate.printer} (${plateSize(plate)}) it ${verbPlate(plateSentence(plate), plate.fits)}.`,
    ),
    ...(report.wear ? wearSentences(report.wear) : []),
    `It weighs ${report.massPrintedG} g printed in ${report.material.name}.`,
    ...(report.plan ? printSentences(report.plan) : []),
    ...findings,
    ...report.cautions.slice(0, 1),
  ].join("\n");
}

/** The verdict with its reasons, and the answer to each question. */
function wearSentences(wear: NonNullable<Report["wear"]>): string[] {
  const answers = wearLines(wear).map(({ label, value }) => `${label}: ${value}.`);
  const why = wear.findings
    .filter(({ severity }) => severity !== "note")
    .map(({ severity, text, suggestion }) => `- ${severity}: ${text}${suggestion ? ` (${suggestion})` : ""}`);
  return [`Verdict: ${verdictTitles[wear.verdict]}.`, ...why, ...answers];
}

/** What its print takes: hours, filament, price, spools, way up, supports; and what the plan found. */
function printSentences(plan: NonNullable<Report["plan"]>): string[] {
  const taken = planLines(plan).map(({ label, value }) => `${label}: ${value}`);
  const found = plan.findings
    .filter(({ severity }) => severity !== "note")
    .map(({ severity, text, suggestion }) => `- ${severity}: ${text}${suggestion ? ` (${suggestion})` : ""}`);
  const settings = `layers of ${plan.settings.layerHeight} mm, ${plan.settings.shells} shells, ${plan.settings.infill} % infill`;
  return [`Printed on ${plan.printer} with ${settings}: ${taken.join(". ")}.`, ...found];
}

const verbPlate = (sentence: string, fits: boolean): string => (fits ? sentence : `is ${sentence}`);
