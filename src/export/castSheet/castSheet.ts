import { verdictTitles } from "../../checks/verdict";
import { dateText } from "../castDates";
import { type CastReport, type CastReportPiece, pieceLabel } from "../castReport";
import {
  castAnswer,
  filamentSentence,
  pieceRows,
  printerHead,
  printerRows,
  printHead,
  printRows,
} from "../castText";
import { counted } from "../reportSentences";
import { list, Markup, markup, picture, section, table } from "../workshop/markup";
import { sheetDocument } from "../workshop/sheetDocument";
import { sheetStyle } from "../workshop/sheetStyle";
import { timeChart } from "./timeChart";

/** An editor that shows the sheet has a colour of its own for the text. */
const castStyle = `
body { color: #1b1d21; }
.cast { display: grid; grid-template-columns: repeat(auto-fill, minmax(210px, 1fr)); gap: 10px; }
.piece { border: 1px solid #8d9199; border-radius: 4px; padding: 8px 10px; break-inside: avoid; font-size: 13.5px; }
.piece h3 { margin: 0; }
.piece p { margin: 3px 0; }
.piece.dont, .piece.failed { border: 3px solid #1b1d21; padding: 6px 8px; }
.piece img { display: block; width: 100%; height: auto; max-height: 62mm; object-fit: contain; }
.chart .plot { max-width: none; }
.tick { width: 16px; }
.answer { font-size: 19px; font-weight: bold; }
@media print { .cast { grid-template-columns: repeat(3, 1fr); } }
`;

/**
 * The plan of a cast to print and to pin up: one HTML document that is well-formed XML too, with its style and pictures
 * inside, no script and nothing from outside. The same plan gives the same text.
 * @throws RangeError when there are no cautions
 */
export function castSheet(report: CastReport): string {
  if (report.cautions.length === 0)
    throw new RangeError("A cast sheet always has its cautions: none were given.");
  const { production, opens, begins, readyBy, today, pieces, prints } = report;
  const body = markup`<header><h1>${production}</h1>
<p>Cast sheet of ${dateText(today, { withYear: true })}: ${counted(pieces.length, "piece")}, ${counted(prints.length, "print")}</p></header>
<main>
<p class="answer">${castAnswer(report)}</p>
<dl class="figures">${figures([
    ["first night", dateText(opens, { withYear: true })],
    ["printing from", dateText(begins)],
    ["printed by", dateText(readyBy)],
    ["spools to buy", String(report.filament.reduce((sum, { buy }) => sum + buy, 0))],
  ])}</dl>
${[
  findingSection(report),
  prints.length === 0 ? undefined : orderSection(report),
  section("Printers", table(printerHead.map(column(1)), rowsOf(printerRows(report)))),
  report.filament.length === 0 ? undefined : section("Filament", list(report.filament.map(filamentSentence))),
  castSection(report),
  section("What the figures rest on", list(basisOf(report))),
].filter((one) => one !== undefined)}<section class="cautions"><h2>Take care</h2>
${list(report.cautions)}</section>
</main>
<footer>Made with anadem. Hours, filament and prices are estimates; look after the printers while they run.</footer>`;
  return sheetDocument(body, {
    title: `${production}: cast sheet`,
    style: sheetStyle + castStyle,
    hasPictures: true,
  });
}

const figures = (pairs: readonly (readonly [label: string, value: string])[]): readonly Markup[] =>
  pairs.map(
    ([label, value]) => markup`<div><dt>${label}</dt><dd>${value}</dd></div>
`,
  );

/** Columns from `from` on are numbers. */
const column = (from: number) => (title: string, i: number) => ({ title, isNumber: i >= from });

const rowsOf = (rows: readonly (readonly string[])[]) => rows.map((cells) => ({ cells }));

/** The chart, and the prints in order with a box to tick. */
function orderSection(report: CastReport): Markup {
  const rows = printRows(report).map((cells, i) => ({
    cells: ["☐", String(i + 1), ...cells],
    isMarked: report.prints[i].lateHours > 0,
  }));
  return section(
    "In this order",
    markup`<figure class="chart"><figcaption>Printers by day; numbers are those of the table</figcaption>
${new Markup(timeChart(report, "cast-days"))}</figure>
`,
    table([{ title: "" }, { title: "no." }, ...printHead.map((title) => ({ title }))], rows),
  );
}

/** A card for each piece. */
function castSection(report: CastReport): Markup {
  const rows = pieceRows(report);
  return section(
    "Who wears what",
    markup`<div class="cast">${report.pieces.map((piece, i) => card(piece, rows[i]))}</div>
`,
  );
}

function card(piece: CastReportPiece, [, wearer, , play, mass, hours, on]: readonly string[]): Markup {
  const { verdict, reasons, copies, by, material, others, picture: svg } = piece;
  const label = pieceLabel(piece);
  const title = verdict === "failed" ? "No solid" : verdictTitles[verdict];
  const lines: readonly (readonly [string, string])[] = [
    ["wearer", wearer],
    ["verdict", title],
    ["girth play", play],
    ["mass", mass],
    ["hours", hours],
    ["on", on],
    ["material", material ?? ""],
    ["copies", copies > 1 ? String(copies) : ""],
    ["printed by", dateText(by)],
  ];
  return markup`<div class="piece ${verdict}">
<h3>${label}</h3>
${svg === undefined ? undefined : picture(svg, `${label}, seen on the head.`)}
<table><tbody>${lines
    .filter(([, value]) => value !== "")
    .map(([name, value]) => markup`<tr><td>${name}</td><td>${value}</td></tr>`)}</tbody></table>
${reasons.slice(0, 2).map((reason) => markup`<p>${reason}</p>`)}
${others === undefined ? undefined : markup`<p>${othersSentence(others)}</p>`}</div>
`;
}

const othersSentence = (others: readonly string[]): string =>
  others.length === 0
    ? "Nobody else of the cast could wear it."
    : `Made for them, it could be worn by ${others.join(", ")}.`;

const basisOf = ({ basis, schedule }: CastReport): string[] => [
  ...basis,
  `The order: ${schedule.optimised}; ${schedule.method === "exact" ? "no other is better" : "no better one was found"}.`,
];

const severityWords = { error: "Does not work", warning: "Look at this", note: "To know" } as const;

function findingSection({ findings }: CastReport): Markup | undefined {
  if (findings.length === 0) return undefined;
  return section(
    "What was found",
    findings.map(({ severity, text, suggestion }) => {
      const hint = suggestion === undefined ? undefined : markup`<p class="hint">→ ${suggestion}</p>`;
      return markup`<div class="finding ${severity}"><p><b>${severityWords[severity]}:</b> ${text}</p>
${hint}</div>
`;
    }),
  );
}
