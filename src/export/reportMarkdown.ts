import type { Finding } from "../checks/finding";
import { verdictTitles } from "../checks/verdict";
import type { Message } from "../message";
import type { Report } from "./report";
import {
  centreSentence,
  counted,
  inWords,
  measureSentence,
  plateSentence,
  plateSize,
  readable,
} from "./reportSentences";
import type { ReportWear } from "./wearReport";
import { wearLines, withUnit } from "./wearSentences";

/**
 * The report as Markdown, to print out and lay beside the piece, or to read on a web page.
 * @param beside `sightPlot`: name of the picture of the visual field that lies beside it
 */
export function reportMarkdown(report: Report, beside: { readonly sightPlot?: string } = {}): string {
  const { width, depth, height } = report.boxMm;
  const blocks = [
    `# ${escaped(report.headpiece)} for ${escaped(report.wearer)}`,
    table(
      ["", ""],
      [
        [
          "Solid",
          `${report.closed ? "closed" : "**not closed**"}, ${counted(report.pieces, "piece")}, ${counted(report.voids, "void")}, ${counted(report.crumbsDropped, "crumb")} left out (${report.crumbsDroppedMm3} mm³), ${counted(report.triangles, "triangle")}`,
        ],
        ...report.plates.map((plate) => [
          "Plate",
          `${plate.printer} (${plateSize(plate)}): ${plateSentence(plate)}`,
        ]),
        ["Mass, printed", `${report.massPrintedG} g`],
        ["Mass, if solid", `${report.massSolidG} g`],
        ["Filament", `${report.filamentM} m of ${report.filamentDiameterMm} mm ${report.material.name}`],
        ["Size (wide × deep × high)", `${width} × ${depth} × ${height} mm`],
        ["Volume", `${readable(report.volumeCm3)} cm³`],
        ["Surface", `${readable(report.areaCm2)} cm²`],
        ["Centre of mass", `${centreSentence(report.centreOfMassMm)}, from the middle between the ears`],
        [
          "Ease",
          `${report.easeOffsetMm} mm offset (${report.girthEaseMm} mm of girth), hair ${report.hairMm} mm`,
        ],
      ],
    ),
    escaped(report.massPrintedBasis),
    "## Head",
    table(
      ["measure", ""],
      Object.entries(report.head).map(([name, measure]) => [inWords(name), measureSentence(measure)]),
    ),
  ];
  if (report.wear) blocks.splice(1, 0, ...wearBlocks(report.wear));
  if (beside.sightPlot !== undefined) {
    blocks.push("## What the wearer sees", `![Polar plot of the visual field](${beside.sightPlot})`);
  }
  if (report.parameters.length > 0) {
    blocks.push(
      "## Parameters",
      table(
        ["name", "value", ""],
        report.parameters.map(({ name, value, unit, changed }) => [
          name,
          `${value}${unit === "mm" ? " mm" : unit}`,
          changed ? "changed" : "",
        ]),
      ),
    );
  }
  if (report.parts.length > 0) {
    blocks.push(
      "## Parts",
      table(
        ["part", "kind", "length, mm", "share, %", "printed, g"],
        report.parts.map(({ name, kind, lengthMm, share, massPrintedG }) => [
          name,
          kind,
          lengthMm === undefined ? "" : lengthMm.toFixed(1),
          (100 * share).toFixed(1),
          massPrintedG.toFixed(1),
        ]),
      ),
    );
  }
  if (report.messages.length > 0) {
    blocks.push("## Messages", messageList(report.messages));
  }
  blocks.push("## Take care", report.cautions.map((caution) => `- ${escaped(caution)}`).join("\n"));
  return `${blocks.join("\n\n")}\n`;
}

/** The verdict, its reasons, the answers, and what was found. */
function wearBlocks(wear: ReportWear): string[] {
  const blocks = [
    `## ${verdictTitles[wear.verdict]}`,
    ...(wear.reasons.length > 0 ? [wear.reasons.map((reason) => `- ${escaped(reason)}`).join("\n")] : []),
    table(
      ["fit and wear", ""],
      wearLines(wear).map(({ label, value, tone }) => [
        label,
        tone === "good" || tone === "note" ? value : `**${value}**`,
      ]),
    ),
  ];
  if (wear.findings.length > 0) blocks.push("### Found", messageList(wear.findings));
  const assumed = [wear.stayOn?.caveat, wear.strength?.basis, ...(wear.weight?.caveats ?? [])].filter(
    (text) => text !== undefined,
  );
  if (assumed.length > 0)
    blocks.push("### What the answers rest on", assumed.map((text) => `- ${escaped(text)}`).join("\n"));
  return blocks;
}

/** Messages as a list, each with its place, its limit and what to do. */
const messageList = (messages: readonly (Message & Partial<Pick<Finding, "limit" | "unit">>)[]): string =>
  messages
    .map(({ severity, text, suggestion, file, line, limit, unit }) => {
      const place = file === undefined ? "" : ` (${file}:${line ?? 1})`;
      const held = limit ? `; limit ${withUnit(limit.value, unit)}, ${limit.source}` : "";
      const more = `${suggestion ?? ""}${held}`.replace(/^; /, "");
      return `- **${severity}**${escaped(place)}: ${escaped(text)}${more === "" ? "" : ` (${escaped(more)})`}`;
    })
    .join("\n");

function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
  const line = (cells: readonly string[]): string => `| ${cells.join(" | ")} |`;
  return [line(head), `|${"---|".repeat(head.length)}`, ...rows.map((row) => line(row.map(escaped)))].join(
    "\n",
  );
}

/** Text whose characters mean nothing to Markdown; emphasis of ours (`**`) is kept. */
const escaped = (text: string): string => text.replace(/([|`<>[\]_])/g, "\\$1").replace(/\s+/g, " ");
