import picocolors from "picocolors";
import type { ReportPlan } from "./planReport";
import { orientationFigures, planLines } from "./planSentences";
import type { Report } from "./report";
import { counted } from "./reportSentences";
import { textTable } from "./textTable";
import { messageLines, type Paint, toneMarks } from "./wearText";

/** The answers of a plan, a line each. */
function answerLines(plan: ReportPlan, paint: Paint): string[] {
  const marks = toneMarks(paint);
  return planLines(plan).map(
    ({ label, value, tone }) => `  ${marks[tone]} ${paint.dim(label.padEnd(13))} ${value}`,
  );
}

/** The plan of a print among other things: its answers, and how much more there is to read. */
export function planSummaryLines(plan: ReportPlan, paint: Paint): string[] {
  const count = plan.findings.length;
  const found = count === 0 ? "" : `${counted(count, "finding")}; `;
  return [...answerLines(plan, paint), "", `  ${paint.dim(`${found}anadem plan tells all of it`)}`];
}

/** The plan of a print for a person at a terminal: hours, filament, ways up side by side, what was found. */
export function planTextLines(plan: ReportPlan, paint: Paint): string[] {
  const lines = answerLines(plan, paint);
  lines.push(
    "",
    `  ${paint.dim(`${plan.settingsName}: layers of ${plan.settings.layerHeight} mm, ${plan.settings.shells} shells, ${plan.settings.infill} % infill; ${plan.printer}`)}`,
  );
  if (plan.orientations.length > 0) {
    lines.push("", `  ${paint.bold("Ways up")}, the best of ${plan.directionsCompared} directions`);
    const figures = orientationFigures(plan);
    const labels = [...new Set(figures.flatMap((row) => row.map(({ label }) => label)))];
    const rows = plan.orientations.map((one, i) => [
      `${one.isChosen ? "›" : " "} ${one.names.join(", ")}`,
      one.words,
      ...labels.map((label) => {
        const figure = figures[i].find((each) => each.label === label);
        return figure ? `${figure.value.replace("about ", "")}${figure.isBest ? " *" : ""}` : "";
      }),
    ]);
    lines.push(...textTable(["", "", ...labels], rows).map((row) => `  ${row}`));
  }
  const { pieces } = plan;
  if (pieces && pieces.pieces.length > 1) {
    lines.push("", `  ${paint.bold("Pieces")}`);
    const rows = pieces.pieces.map(({ name, sizeMm, volumeCm3, plate }) => [
      name,
      `${sizeMm.join(" × ")} mm`,
      `${volumeCm3} cm³`,
      `plate ${plate}`,
    ]);
    lines.push(...textTable(["", "size", "volume", ""], rows).map((row) => `  ${row}`));
    lines.push(...pieces.assembly.map((step, i) => `  ${i + 1}. ${step}`));
  }
  if (plan.findings.length > 0) lines.push("");
  for (const finding of plan.findings) lines.push(...messageLines(finding, paint));
  return lines;
}

/** The answer of `anadem plan`. Ends with a newline. */
export function planText(
  report: Report,
  options: { readonly colour: boolean; readonly more?: readonly string[] },
): string {
  const paint = picocolors.createColors(options.colour);
  return [
    "",
    `  ${paint.bold(paint.cyan(report.headpiece))} for ${report.wearer}`,
    "",
    ...(report.plan ? planTextLines(report.plan, paint) : []),
    ...(options.more ?? []),
    "",
    ...(report.plan ? [`  ${paint.dim(report.plan.hoursBasis)}`, ""] : []),
    `  ${paint.bold("Take care")}`,
    ...report.cautions.map((caution) => `  · ${caution}`),
    "",
  ].join("\n");
}
