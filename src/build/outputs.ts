import { basename, dirname, join } from "node:path";
import { drawingSheet } from "../export/drawing";
import { type Report, reportJson } from "../export/report";
import { reportMarkdown } from "../export/reportMarkdown";
import { writeStl } from "../export/stl";
import { auditStl } from "../export/stlAudit";
import { MessageError } from "../message";
import type { FileToPlace } from "./placeFiles";
import type { Finished } from "./reporting";

/** What a file is, for those who pick one out of the list. */
export type OutputKind = "stl" | "report-json" | "report-markdown" | "drawing-svg";

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
 * The files of a finished piece. The STL is judged as it will be read: closed, one piece, of the volume that the report
 * states. Throws a `MessageError` where it is not.
 */
export function outputFiles(finished: Finished, report: Report, folder: string): OutputFile[] {
  const name = nameOfDesign(finished.design);
  const stl = writeStl(finished.solid.mesh, report.headpiece);
  const audit = auditStl(stl);
  const volumeError = Math.abs(audit.volumeMm3 / 1000 / report.volumeCm3 - 1);
  if (!audit.closed || audit.pieces !== 1 || !(volumeError < 1e-4)) {
    throw new MessageError([
      {
        id: "stl-not-closed",
        severity: "error",
        text: `the STL of "${report.headpiece}" would not be one closed piece: ${audit.openEdges} open edges, ${audit.overSharedEdges} edges shared too often, ${audit.pieces} pieces, volume off by ${(100 * volumeError).toFixed(4)} %`,
        suggestion: "shift a part by a little: two surfaces may lie exactly on each other",
      },
    ]);
  }
  const at = (suffix: string) => join(folder, `${name}${suffix}`);
  return [
    { kind: "stl", path: at(".stl"), content: stl },
    { kind: "report-json", path: at(".report.json"), content: reportJson(report) },
    { kind: "report-markdown", path: at(".report.md"), content: reportMarkdown(report) },
    { kind: "drawing-svg", path: at(".drawing.svg"), content: drawingOf(finished, report) },
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
