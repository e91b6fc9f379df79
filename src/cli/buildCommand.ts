import { dirname, join, resolve } from "node:path";
import { checkCommittedReport } from "../build/committedReport";
import { type FinishedFile, judgePiece, placePiece, planPiece } from "../build/finishedFiles";
import { installedFiles } from "../build/installedFiles";
import { printedFiles } from "../build/printedFiles";
import type { Report } from "../export/report";
import { reportText } from "../export/reportText";
import { loadKernel } from "../geometry/solid/kernel";
import { builtDesign } from "./builtDesign";
import { type Command, exitCodes, type OptionValues } from "./command";
import { designOptions, designRequest, limitOptions } from "./designOptions";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";
import { writtenText } from "./writtenFiles";

/** `anadem build DESIGN`: the solid of a design, its report, its drawing sheet. */
export const buildCommand: Command = {
  name: "build",
  operand: "DESIGN",
  summary: "builds a design: STL, report and drawing sheet",
  options: {
    ...designOptions,
    out: { value: "DIR", help: "folder for what is made; out beside the design unless given" },
    report: { help: "also writes NAME.report.json beside the design, for git" },
    check: { help: "writes nothing; exit code 1 when NAME.report.json beside the design no longer matches" },
    json: { help: "prints one JSON object: ok, messages, report, files" },
    ...limitOptions,
  },
  run: (design, options, terminal) =>
    interruptible((signal) => runBuild(resolve(design), options, terminal, signal)),
};

async function runBuild(
  design: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  const request = designRequest(design, options);
  const files: FinishedFile[] = [];
  let report: Report | undefined;
  const messages = await builtDesign(request, terminal, signal, async (finished, found) => {
    terminal.progress("measuring");
    const kernel = await loadKernel(installedFiles().kernel);
    const judged = judgePiece(finished);
    terminal.progress("planning");
    const piece = planPiece(kernel, judged, { proposals: "none" });
    report = piece.report;
    if (options.check) found.push(...checkCommittedReport(design, report));
    else {
      const folder = options.out ? resolve(String(options.out)) : join(dirname(design), "out");
      const committedReport = options.report ? "also" : undefined;
      const print = printedFiles(kernel, piece);
      files.push(...(await placePiece({ ...piece, print }, { folder, committedReport }, signal)));
    }
  });
  const ok = report !== undefined && !messages.some(({ severity }) => severity === "error");
  if (options.json) {
    terminal.printJson({ ok, messages, report: report ?? null, files });
  } else {
    if (report) {
      terminal.print(reportText(report, { colour: terminal.colourOut }));
      if (files.length > 0) terminal.print(writtenText(files));
      else if (options.check && ok) terminal.print("The committed report matches.");
    }
  }
  terminal.tell(messages);
  return ok ? exitCodes.good : exitCodes.faulty;
}
