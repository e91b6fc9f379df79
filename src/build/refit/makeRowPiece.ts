import { refitPicture } from "../../export/refitPicture";
import type { Report } from "../../export/report";
import { reportJson } from "../../export/report";
import { reportMarkdown } from "../../export/reportMarkdown";
import type { Kernel } from "../../geometry/solid/kernel";
import type { PrintPlan } from "../../print/plan";
import { planPrint } from "../../print/planPrint";
import type { Finished } from "../finished";
import { filesOf, type PlannedPiece } from "../finishedFiles";
import { judgedStl } from "../judgedStl";
import { nameOfDesign, type OutputFile } from "../outputs";
import { reportPlanOf } from "../planning";
import { plateFiles, printedFiles } from "../printedFiles";
import { reportOn } from "../reporting";
import { wearOf } from "../wearing";
import { type Weighed, weigh } from "../weighing";
import { figuresOf, type PieceFigures } from "./rowOfPiece";

/** What is asked of a row besides its design and wearer. */
export interface RowWishes {
  readonly isCut?: boolean;
  readonly whole?: boolean;
  readonly pictures?: boolean;
  /** Where its files go, if anywhere. */
  readonly place?: unknown;
}

export interface RowPiece {
  readonly figures: PieceFigures;
  readonly report: Report;
  /** What is written of it: nothing where it does not pass, or nowhere to go. Paths are names. */
  readonly files: readonly OutputFile[];
}

/**
 * Judges and plans a finished piece as far as a row needs it, and makes its files where it passes.
 * @throws MessageError where the STL is not one closed piece of the solid's volume
 */
export function makeRowPiece(kernel: Kernel, finished: Finished, wishes: RowWishes): RowPiece {
  const weighed = weigh(finished);
  const { bytes: stl, audit } = judgedStl(finished, weighed);
  const wear = wearOf(finished, weighed);
  const plan = planFor(kernel, weighed, wishes);
  const report = reportOn(finished, weighed, audit, wear, reportPlanOf(plan, weighed, finished));
  const piece: PlannedPiece = { finished, weighed, audit, stl, wear, report, plan };
  const figures: PieceFigures = {
    ...figuresOf(piece),
    ...(wishes.pictures && { picture: pictureOf(finished) }),
  };
  const isWritten = figures.passes && wishes.place !== undefined;
  return { figures, report, files: isWritten ? filesFor(kernel, piece, wishes.whole ?? false) : [] };
}

const pictureOf = ({ solid, head, parties, result }: Finished): string =>
  refitPicture(solid.mesh, head.form.mesh(), `${result.name} on ${parties.wearer.name}`);

/** The plan up to its first answer; to its end where props are to be printed, pieces cut, or all is asked for. */
function planFor(kernel: Kernel, { job, standing }: Weighed, { whole, isCut }: RowWishes): PrintPlan {
  const toEnd = whole || job.props.length > 0 || (isCut && !standing.chosen.fits);
  let last: PrintPlan | undefined;
  for (const plan of planPrint(kernel, job, standing, { proposals: "none" })) {
    last = plan;
    if (!toEnd) break;
  }
  if (!last) throw new Error("a plan has at least one step");
  return last;
}

function filesFor(kernel: Kernel, piece: PlannedPiece, whole: boolean): OutputFile[] {
  if (whole) {
    const wanted = filesOf({ ...piece, print: printedFiles(kernel, piece) }, { folder: "" });
    return wanted as OutputFile[];
  }
  const { finished, report, stl } = piece;
  const name = nameOfDesign(finished.design);
  return [
    { kind: "stl", path: `${name}.stl`, content: stl },
    { kind: "report-json", path: `${name}.report.json`, content: reportJson(report) },
    { kind: "report-markdown", path: `${name}.report.md`, content: reportMarkdown(report) },
    ...plateFiles(kernel, piece).map((file) => ({ ...file, path: `${name}${file.path}` })),
  ];
}
