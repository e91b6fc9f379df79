import { dateOf, dayOf, momentOf, weekdayOf } from "../../print/schedule/calendar";
import { dateText, momentText } from "../castDates";
import { type CastReport, type CastReportPrint, pieceLabel } from "../castReport";
import { num } from "../sheet/svg";
import { ink, plotDocument, plotText, softInk } from "../workshop/plotFrame";

const width = 780;
const labelWidth = 150;
const rowHeight = 30;
const top = 34;
/** Fewer days make no chart to read. */
const leastDays = 3;
const fills = ["#123f6e", "#abcfe4"] as const;
const lateFill = "#bf7b1e";
const hairline = "#d5d7db";

/**
 * Which printer prints what on which day: a bar a print, a row a printer, the day by which all has to be printed as a
 * line: SVG, 780 px wide. Late prints are told by their pattern and a sign, not by colour alone.
 * @param name unique in the page
 */
export function timeChart(report: CastReport, name: string): string {
  const rows = rowsOf(report);
  const { first, last } = daysOf(report);
  const x = (moment: number) =>
    labelWidth + ((width - labelWidth - 12) * (moment / 24 - first)) / (last - first);
  const height = top + rows.length * rowHeight + 24;
  const bottom = top + rows.length * rowHeight;
  const due = 24 * (dayOf(report.readyBy)! + 1);
  return plotDocument(name, { width, height }, "Printers by day", description(report, rows), [
    `<defs><pattern id="${name}-late" width="6" height="6" patternUnits="userSpaceOnUse"><rect width="6" height="6" fill="#ffffff"/><path d="M-1 1L1 -1M0 6L6 0M5 7L7 5" stroke="${lateFill}" stroke-width="2"/></pattern></defs>`,
    ...dayLines(first, last, x, bottom),
    ...rows.map(({ printer, prints }, i) => {
      const y = top + i * rowHeight;
      return (
        plotText(0, y + 19, shortened(printer, 24)) +
        `<path d="M0 ${num(y + rowHeight)}H${width}" stroke="${hairline}" stroke-width="0.7"/>` +
        prints.map((print, k) => bar(report, print, { y, name, shade: k % 2, x })).join("")
      );
    }),
    `<path class="due" d="M${num(x(due))} ${top - 14}V${num(bottom + 6)}" stroke="${ink}" stroke-width="1.6" stroke-dasharray="6 3"/>`,
    plotText(Math.min(x(due), width - 72), bottom + 19, `printed by ${dateText(report.readyBy)}`, {
      anchor: "middle",
    }),
  ]);
}

interface Row {
  readonly printer: string;
  readonly prints: readonly CastReportPrint[];
}

/** All printers that print something, in the order of the cast's file. */
function rowsOf({ printers, prints }: CastReport): Row[] {
  const names = printers.flatMap(({ name, count }) =>
    count > 1 ? Array.from({ length: count }, (_, i) => `${name}, no. ${i + 1}`) : [name],
  );
  return names.map((printer) => ({ printer, prints: prints.filter((print) => print.printer === printer) }));
}

/** From the first day on which is printed to the last, or the day by which all has to be. */
function daysOf({ begins, readyBy, prints }: CastReport): { first: number; last: number } {
  const days = prints.flatMap(({ start, end }) => [hoursOf(start) / 24, hoursOf(end) / 24]);
  const first = Math.floor(Math.min(...days, dayOf(begins)!));
  const last = Math.ceil(Math.max(...days, dayOf(readyBy)! + 1));
  return { first, last: Math.max(last, first + leastDays) };
}

function bar(
  report: CastReport,
  print: CastReportPrint,
  { y, name, shade, x }: { y: number; name: string; shade: number; x: (moment: number) => number },
): string {
  const [from, to] = [x(hoursOf(print.start)), x(hoursOf(print.end))];
  const wide = Math.max(2, to - from);
  const isLate = print.lateHours > 0;
  const fill = isLate ? `url(#${name}-late)` : fills[shade];
  const number = String(report.prints.indexOf(print) + 1);
  const room = wide >= 7 * number.length + 4;
  const label = room
    ? `<text x="${num(from + wide / 2)}" y="${num(y + 19)}" text-anchor="middle" font-weight="bold" fill="${isLate || shade === 1 ? ink : "#ffffff"}"${
        isLate ? ` stroke="#ffffff" stroke-width="3" paint-order="stroke"` : ""
      }>${number}</text>`
    : plotText(from + wide / 2, y + 4, number, { anchor: "middle" });
  return `<rect class="${isLate ? "print late" : "print"}" x="${num(from)}" y="${num(y + 6)}" width="${num(wide)}" height="${rowHeight - 12}" fill="${fill}" stroke="${ink}" stroke-width="0.6"/>${label}`;
}

function dayLines(first: number, last: number, x: (moment: number) => number, bottom: number): string[] {
  // A label needs 46 px; weeks, then fortnights, where days are narrower.
  const perDay = (x(24) - x(0)) * 1;
  const step = [1, 2, 7, 14, 28].find((days) => days * perDay >= 46) ?? 56;
  const lines: string[] = [];
  for (let day = first; day <= last; day++) {
    // Weeks begin with their Monday.
    const isLabelled =
      step < 7
        ? (day - first) % step === 0
        : weekdayOf(day) === "Mon" && ((day - first) / 7) % (step / 7) < 1;
    const at = x(24 * day);
    if (perDay >= 4 || isLabelled) {
      lines.push(
        `<path d="M${num(at)} ${top - 6}V${num(bottom)}" stroke="${hairline}" stroke-width="${isLabelled ? 1 : 0.5}"/>`,
      );
    }
    if (isLabelled && day < last) {
      lines.push(
        plotText(at + 3, top - 12, dateText(dateOf(day)).replace(/^\w+ /, ""), { className: "day" }),
      );
    }
  }
  lines.push(`<path d="M${labelWidth} ${top}V${num(bottom)}" stroke="${softInk}" stroke-width="1"/>`);
  return lines;
}

/** The chart in words. */
function description(report: CastReport, rows: readonly Row[]): string {
  const sentences = rows.map(({ printer, prints }) =>
    prints.length === 0
      ? `${printer}: nothing.`
      : `${printer}: ${prints
          .map(
            (print) =>
              `${pieceLabel(report.pieces[print.piece])} from ${momentText(print.start)} to ${momentText(print.end)}${print.lateHours > 0 ? ", late" : ""}`,
          )
          .join("; ")}.`,
  );
  return `All has to be printed by ${dateText(report.readyBy)}. ${sentences.join(" ")}`;
}

/** Hours since 1970-01-01 of a moment. */
export function hoursOf(moment: string): number {
  const [date, time] = moment.split("T");
  const [hours, minutes] = time.split(":").map(Number);
  const result = 24 * dayOf(date)! + hours + minutes / 60;
  if (momentOf(result) !== moment) throw new RangeError(`"${moment}" is no moment.`);
  return result;
}

const shortened = (text: string, most: number): string =>
  text.length <= most ? text : `${text.slice(0, most - 1)}…`;
