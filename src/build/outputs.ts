import { basename, dirname, join } from "node:path";
import type { Wear } from "../checks/wear";
import { drawingSheet } from "../export/drawing";
import { type Report, reportJson } from "../export/report";
import { reportMarkdown } from "../export/reportMarkdown";
import { sightPlot } from "../export/sightPlot";
import type { Finished } from "./finished";
import type { FileToPlace } from "./placeFiles";

/** What a file is, for those who pick one out of the list. */
export type OutputKind =
  | "stl"
  | "report-json"
  | "report-markdown"
  | "drawing-svg"
  | "sight-svg"
  /** A filled plate, and a piece of what was cut, as they are printed. */
  | "plate-stl"
  | "plate-3mf"
  | "piece-stl"
  | "workshop-html";

/** A file to be written. */
export interface OutputFile extends FileToPlace {
  readonly kind: OutputKind;
}

const designSuffix = /\.headpiece\.tsx?$|\.[^.]*$/;

/** `coral-crown` of `samples/coral-crown.headpiece.ts`. */
export const nameOfDesign = (design: string): string => basename(design).replace(designSuffix, "");

/** Where a design's report is kept for git. */
export const committedReportOf = (design: string): string =>
  join(dirname(design), `${nameOfDesign(design)}.report.json`);

/**
 * The files of a finished piece whose STL was judged.
 * @param print files of its print, whose path is what follows the name
 */
export function outputFiles(
  finished: Finished,
  report: Report,
  stl: Uint8Array,
  wear: Wear,
  folder: string,
  print: readonly OutputFile[],
): OutputFile[] {
  const { sight } = wear.answers;
  const name = nameOfDesign(finished.design);
  const at = (suffix: string) => join(folder, `${name}${suffix}`);
  return [
    { kind: "stl", path: at(".stl"), content: stl },
    { kind: "report-json", path: at(".report.json"), content: reportJson(report) },
    {
      kind: "report-markdown",
      path: at(".report.md"),
      content: reportMarkdown(report, sight && { sightPlot: `${name}.sight.svg` }),
    },
    { kind: "drawing-svg", path: at(".drawing.svg"), content: drawingOf(finished, report) },
    ...(sight
      ? [{ kind: "sight-svg", path: at(".sight.svg"), content: sightPlot(sight.sight) } as const]
      : []),
    ...print.map((file) => ({ ...file, path: at(file.path) })),
  ];
}

function drawingOf({ solid, head, parties }: Finished, report: Report): string {
  return drawingSheet({
    piece: solid.mesh,
    head: head.form.mesh(),
    headpiece: report.headpiece,
    wearer: parties.wearer.name,
    material: parties.material.name,
    massPrinted: report.massPrintedG,
    massSolid: report.massSolidG,
    cautions: report.cautions,
  });
}
