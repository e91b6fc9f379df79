import picocolors from "picocolors";
import { verdictTitles } from "../checks/verdict";
import { dateText, momentText, plainHours, spareText } from "./castDates";
import { type CastReport, type CastReportFilament, pieceLabel, printLabel } from "./castReport";
import { counted } from "./reportSentences";
import { textTable } from "./textTable";
import { messageLines, type Paint } from "./wearText";

/** The plan of a cast for a person at a terminal. Ends with a newline. */
export function castText(report: CastReport, options: { readonly colour: boolean }): string {
  const paint = picocolors.createColors(options.colour);
  const block = (title: string, lines: readonly string[]) =>
    lines.length === 0 ? [] : [`  ${paint.bold(title)}`, ...lines.map((line) => `  ${line}`), ""];
  return [
    "",
    `  ${paint.bold(paint.cyan(report.production))}, first night ${dateText(report.opens, { withYear: true })}`,
    `  printing from ${dateText(report.begins)} to ${dateText(report.readyBy)}`,
    "",
    `  ${paint.bold(report.ok ? paint.green(castAnswer(report)) : paint.red(castAnswer(report)))}`,
    "",
    ...block("Pieces", textTable(pieceHead, pieceRows(report))),
    ...block("Printers", textTable(printerHead, printerRows(report))),
    ...block("In this order", textTable(printHead, printRows(report))),
    ...block("Filament", report.filament.map(filamentSentence)),
    ...block("What was found", findingLines(report, paint)),
    ...report.basis.map((line) => `  ${paint.dim(line)}`),
    "",
    `  ${paint.bold("Take care")}`,
    ...report.cautions.map((caution) => `  · ${caution}`),
    "",
  ].join("\n");
}

/** All of it in one sentence. */
export function castAnswer(report: CastReport): string {
  const { prints, schedule, findings, readyBy } = report;
  const late = prints.filter(({ lateHours }) => lateHours > 0);
  const errors = findings.filter(({ severity }) => severity === "error").length;
  if (late.length > 0) {
    const most = Math.max(...late.map(({ lateHours }) => lateHours));
    return `${counted(late.length, "print")} late, by up to ${plainHours(most)}`;
  }
  if (errors > 0) return `${counted(errors, "thing")} to mend before it can be printed as planned`;
  if (schedule.lastEnd === undefined) return "Nothing to print";
  const spare = -(schedule.greatestLatenessHours ?? 0);
  return `In time: the last print ends ${momentText(schedule.lastEnd)}, ${spareText(spare)} to spare (prints by ${dateText(readyBy)})`;
}

export const pieceHead = ["piece", "for", "verdict", "girth play", "mass", "hours", "on"] as const;

/** A row for each piece, in the order of the cast's file. */
export const pieceRows = ({ pieces }: CastReport): string[][] =>
  pieces.map((piece) => {
    const { wearer, verdict, girthPlayMm, massG, copies, on } = piece;
    const printable = on.filter(({ hoursMost }) => hoursMost !== undefined);
    const hours = printable.map(({ hoursMost }) => hoursMost!);
    const [least, most] = [Math.min(...hours), Math.max(...hours)];
    const cut = printable.length > 0 && printable.every(({ cutInto }) => cutInto !== undefined);
    return [
      `${pieceLabel(piece)}${copies > 1 ? ` × ${copies}` : ""}`,
      wearer,
      verdict === "failed" ? "No solid" : verdictTitles[verdict],
      girthPlayMm === undefined ? "" : `${girthPlayMm} mm`,
      massG === undefined ? "" : `${Math.round(massG)} g`,
      hours.length === 0
        ? ""
        : plainHours(least) === plainHours(most)
          ? plainHours(most)
          : `${plainHours(least).replace(" h", "")} to ${plainHours(most)}`,
      printable.length === 0
        ? "no printer"
        : `${printable.map(({ printer }) => printer).join(", ")}${cut ? ` (cut into ${Math.min(...printable.map(({ cutInto }) => cutInto!))})` : ""}`,
    ];
  });

export const printerHead = ["printer", "prints", "hours", "days", "load"] as const;

export const printerRows = ({ printers }: CastReport): string[][] =>
  printers.map(({ name, count, prints, hours, days, loadPercent }) => [
    count > 1 ? `${name} × ${count}` : name,
    String(prints),
    plainHours(hours),
    String(days),
    `${loadPercent} %`,
  ]);

export const printHead = ["begin", "print", "on", "takes", "ends", "can wait", "spool"] as const;

/** A row for each print, in the order in which they are begun. */
export const printRows = (report: CastReport): string[][] =>
  report.prints.map((print) => [
    momentText(print.start),
    printLabel(report, print),
    print.printer,
    plainHours(print.hours),
    `${momentText(print.end)}${print.lateHours > 0 ? `, ${plainHours(print.lateHours)} late` : ""}`,
    print.slackHours === undefined || print.slackHours < 0 ? "no" : spareText(print.slackHours),
    print.spools.map(({ spool }) => spool).join(", then "),
  ]);

/** What a material takes, and what to buy. */
export function filamentSentence(filament: CastReportFilament): string {
  const {
    material,
    printsG,
    wasteG,
    stockG,
    spoolG,
    buy,
    buyInTurn,
    price,
    currency,
    changes,
    buyForNoChange,
  } = filament;
  const takes = `${material}: ${printsG} g and ${wasteG} g for waste, ${stockG} g in stock`;
  const money = price !== undefined && buy > 0 ? ` (${currency ?? ""}${currency ? " " : ""}${price})` : "";
  const buys = buy === 0 ? "nothing to buy" : `buy ${counted(buy, "spool")} of ${spoolG} g${money}`;
  const more =
    changes === 0
      ? ""
      : `; ${counted(changes, "change")} of spool while something prints${
          buyForNoChange === undefined ? "" : `, none with ${counted(buyForNoChange, "spool")}`
        }`;
  const fewer =
    buyInTurn === undefined ? "" : `; ${buyInTurn} would do if nothing were printed at the same time`;
  return `${takes}: ${buys}${fewer}${more}`;
}

const findingLines = ({ findings }: CastReport, paint: Paint): string[] =>
  findings.flatMap((finding) => messageLines(finding, paint)).map((line) => line.replace(/^ {2}/, ""));
