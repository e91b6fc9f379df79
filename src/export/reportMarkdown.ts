import { escaped, messageList, table } from "./markdown";
import { planBlocks } from "./planMarkdown";
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
import { wearBlocks } from "./wearMarkdown";

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
  blocks.splice(
    1,
    0,
    ...(report.wear ? wearBlocks(report.wear) : []),
    ...(report.plan ? planBlocks(report.plan) : []),
  );
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
