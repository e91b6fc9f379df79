import picocolors from "picocolors";
import { planSummaryLines } from "./planText";
import type { Report } from "./report";
import {
  centreSentence,
  counted,
  grouped,
  inWords,
  measureSentence,
  plateSentence,
  plateSize,
  readable,
} from "./reportSentences";
import { messageLines, wearTextLines } from "./wearText";

/** Rows of parts that a terminal shows; the files have all. */
const mostRows = 12;

/**
 * The report for a person at a terminal, the most wanted first: can it be printed, how heavy, how large; then the
 * rest. Plain text without colour; ends with a newline.
 */
export function reportText(report: Report, options: { readonly colour: boolean }): string {
  const paint = picocolors.createColors(options.colour);
  const lines: string[] = [];
  const row = (label: string, text: string): void => {
    lines.push(`  ${paint.dim(label.padEnd(11))} ${text}`);
  };
  const section = (title: string): void => {
    lines.push("", `  ${paint.bold(title)}`);
  };
  const good = (yes: boolean, text: string): string => (yes ? paint.green(text) : paint.red(text));

  lines.push("", `  ${paint.bold(paint.cyan(report.headpiece))} for ${report.wearer}`, "");
  const onePiece = report.closed && report.pieces === 1;
  row(
    "Solid",
    [
      good(onePiece, `${report.closed ? "closed" : "not closed"}, ${counted(report.pieces, "piece")}`),
      report.voids > 0 ? counted(report.voids, "void") : "",
      report.crumbsDropped > 0 ? `${counted(report.crumbsDropped, "crumb")} left out` : "",
      counted(report.triangles, "triangle"),
    ]
      .filter((part) => part !== "")
      .join(", "),
  );
  for (const plate of report.plates) {
    row("Plate", `${good(plate.fits, plateSentence(plate))} · ${plate.printer} (${plateSize(plate)})`);
  }
  row(
    "Mass",
    `${paint.bold(`${report.massPrintedG} g`)} printed, ${report.massSolidG} g if solid, ` +
      `${report.filamentM} m of ${report.filamentDiameterMm} mm ${report.material.name}`,
  );
  const { width, depth, height } = report.boxMm;
  row("Size", `${paint.bold(`${width} × ${depth} × ${height} mm`)} wide, deep, high`);
  row("Volume", `${readable(report.volumeCm3)} cm³, surface ${readable(report.areaCm2)} cm²`);
  row("Balance", `centre of mass ${centreSentence(report.centreOfMassMm)} from the middle between the ears`);
  const names = [...Object.keys(report.head), ...report.parameters.map(({ name }) => name)].map(inWords);
  const column = Math.max(0, ...names.map((name) => name.length));
  Object.entries(report.head).forEach(([name, measure], i) => {
    row(i === 0 ? "Head" : "", `${inWords(name).padEnd(column)}  ${measureSentence(measure)}`);
  });
  row(
    "Ease",
    `${report.easeOffsetMm} mm all round (${report.girthEaseMm} mm of girth)` +
      (report.hairMm > 0 ? `, hair ${report.hairMm} mm` : ""),
  );
  report.parameters.forEach(({ name, value, unit, changed }, i) => {
    const shown = `${inWords(name).padEnd(column)}  ${value}${unit === "mm" ? " mm" : unit}`;
    row(i === 0 ? "Parameters" : "", changed ? paint.yellow(`${shown} (changed)`) : shown);
  });
  lines.push("", `  ${paint.dim(report.massPrintedBasis)}`);

  if (report.wear) {
    section("Fit and wear");
    lines.push(...wearTextLines(report.wear, paint));
  }

  if (report.plan) {
    section("Print plan");
    lines.push(...planSummaryLines(report.plan, paint));
  }

  if (report.parts.length > 0) {
    section("Parts, the heaviest first");
    const heaviest = [...report.parts].sort((a, b) => b.share - a.share).slice(0, mostRows);
    const widest = Math.max(...heaviest.map((part) => part.name.length));
    for (const { name, lengthMm, share, massPrintedG } of heaviest) {
      lines.push(
        `  ${name.padEnd(widest)}  ${`${massPrintedG.toFixed(1)} g`.padStart(9)}  ${`${(100 * share).toFixed(1)} %`.padStart(7)}` +
          (lengthMm === undefined ? "" : `  ${`${lengthMm.toFixed(1)} mm`.padStart(10)}`),
      );
    }
    const left = report.parts.length - heaviest.length;
    if (left > 0) lines.push(paint.dim(`  and ${grouped(left)} more in the report's files`));
  }

  if (report.messages.length > 0) {
    section("Messages");
    for (const message of report.messages) lines.push(...messageLines(message, paint));
  }
  section("Take care");
  for (const caution of report.cautions) lines.push(`  · ${caution}`);
  return `${lines.join("\n")}\n`;
}
