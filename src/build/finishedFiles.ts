import type { Wear } from "../checks/wear";
import { type Report, reportJson } from "../export/report";
import type { StlAudit } from "../export/stlAudit";
import type { TriangleMesh } from "../geometry/mesh";
import type { Kernel } from "../geometry/solid/kernel";
import type { PrintPlan } from "../print/plan";
import type { PlanOptions } from "../print/planPrint";
import type { Build } from "./engine";
import type { Finished } from "./finished";
import { judgedStl } from "./judgedStl";
import { committedReportOf, type OutputFile, type OutputKind, outputFiles } from "./outputs";
import { type FileToPlace, placeFiles } from "./placeFiles";
import { planOf, reportPlanOf } from "./planning";
import { reportOn } from "./reporting";
import { wearOf } from "./wearing";
import { type Weighed, weigh } from "./weighing";

/** A finished piece whose STL was judged, with the report on it: fit to be written. */
export interface JudgedPiece {
  readonly finished: Finished;
  readonly weighed: Weighed;
  readonly audit: StlAudit;
  readonly stl: Uint8Array;
  readonly wear: Wear;
  readonly report: Report;
  /** The files of its print, where that was planned. */
  readonly print?: readonly OutputFile[];
}

/** A judged piece whose print was planned. */
export interface PlannedPiece extends JudgedPiece {
  readonly plan: PrintPlan;
}

/** A file of a finished piece: an output, or the report that is kept beside the design for git. */
export interface FinishedFile {
  readonly path: string;
  readonly kind: OutputKind | "committed-report";
}

/** Which files are wanted, and where. */
export interface WantedFiles {
  /** Of the outputs. */
  readonly folder: string;
  /** Also the report that is kept beside the design for git; alone: no output. */
  readonly committedReport?: "also" | "alone";
}

/** What a build made, as far as it has to be measured; undefined where it came to no good solid. */
export function finishedOf(design: string, build: Build): Finished | undefined {
  const { ok, result, parties, head, solid, messages } = build;
  if (!ok || !result || !parties || !head || !solid) return undefined;
  return { design, result, parties, head, solid, messages };
}

/**
 * Judges the STL of a finished piece, checks its fit and wear, and measures it.
 * @param scan a real head's surface in the head frame, to check fit and wear on in place of the wearer's form
 * @throws MessageError where the STL is not one closed piece of the solid's volume
 */
export function judgePiece(finished: Finished, scan?: TriangleMesh): JudgedPiece {
  const weighed = weigh(finished);
  const { bytes, audit } = judgedStl(finished, weighed);
  const wear = wearOf(finished, weighed, undefined, scan);
  return { finished, weighed, audit, stl: bytes, wear, report: reportOn(finished, weighed, audit, wear) };
}

/** Plans the print of a judged piece: its report then tells of it. */
export function planPiece(kernel: Kernel, piece: JudgedPiece, options?: PlanOptions): PlannedPiece {
  const { finished, weighed, audit, wear } = piece;
  const plan = planOf(kernel, weighed, options);
  const report = reportOn(finished, weighed, audit, wear, reportPlanOf(plan, weighed, finished));
  return { ...piece, plan, report };
}

/** The files that are wanted of a piece, in the order in which they are put in place. */
export function filesOf(
  { finished, stl, wear, report, print = [] }: JudgedPiece,
  { folder, committedReport }: WantedFiles,
): (FinishedFile & FileToPlace)[] {
  const outputs = committedReport === "alone" ? [] : outputFiles(finished, report, stl, wear, folder, print);
  if (committedReport === undefined) return outputs;
  const path = committedReportOf(finished.design);
  return [...outputs, { path, kind: "committed-report", content: reportJson(report) }];
}

/**
 * Writes the wanted files of a piece, each of them whole, and tells which they are.
 * @param signal ends the writing before the first file is put in place; nothing is then changed
 * @throws MessageError naming the file that cannot be written; the signal's reason on abort
 */
export async function placePiece(
  piece: JudgedPiece,
  wanted: WantedFiles,
  signal: AbortSignal,
): Promise<FinishedFile[]> {
  const files = filesOf(piece, wanted);
  await placeFiles(files, { signal });
  return files.map(({ path, kind }) => ({ path, kind }));
}
