import { resolve } from "node:path";
import { judgePiece } from "../build/finishedFiles";
import { readHeadScan } from "../build/headScan";
import { checkText } from "../export/checkText";
import type { Report } from "../export/report";
import { builtDesign } from "./builtDesign";
import { type Command, exitCodes, type OptionValues } from "./command";
import { designOptions, designRequest, existing, limitOptions } from "./designOptions";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";

/** `anadem check DESIGN`: does it fit, can it be put on, does it stay on, is it safe to wear? */
export const checkCommand: Command = {
  name: "check",
  operand: "DESIGN",
  summary: "tells whether a piece can be worn: wear, adjust, don't, and why",
  options: {
    ...designOptions,
    head: { value: "FILE", help: "checks on this real head (STL or OBJ) in place of the wearer's form" },
    strict: { help: "exit code 1 also where the piece is to be adjusted first" },
    json: { help: "prints one JSON object: ok, messages, report, files; the verdict is report.wear" },
    ...limitOptions,
  },
  run: (design, options, terminal) =>
    interruptible((signal) => runCheck(resolve(design), options, terminal, signal)),
};

async function runCheck(
  design: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  const request = designRequest(design, options);
  const scan = options.head === undefined ? undefined : existing(resolve(String(options.head)), "--head");
  let report: Report | undefined;
  const messages = await builtDesign(request, terminal, signal, (finished, found) => {
    const placed = scan === undefined ? undefined : readHeadScan(scan, finished.head.form);
    found.push(...(placed?.messages ?? []));
    terminal.progress("checking");
    report = judgePiece(finished, placed?.mesh).report;
  });
  const isBuilt = report !== undefined && !messages.some(({ severity }) => severity === "error");
  const verdict = report?.wear?.verdict;
  const ok = isBuilt && (verdict === "wear" || (verdict === "adjust" && options.strict !== true));
  if (options.json) terminal.printJson({ ok, messages, report: report ?? null, files: [] });
  else if (report) terminal.print(checkText(report, { colour: terminal.colourOut }));
  terminal.tell(messages);
  return ok ? exitCodes.good : exitCodes.faulty;
}
