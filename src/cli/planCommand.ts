import { resolve } from "node:path";
import type { BuildRequest } from "../build/engine";
import type { Finished } from "../build/finished";
import {
  type FinishedFile,
  judgePiece,
  type PlannedPiece,
  placePiece,
  planPiece,
} from "../build/finishedFiles";
import { installedFiles } from "../build/installedFiles";
import { printSetupFrom } from "../build/parties";
import { planOf, reportPlanOf } from "../build/planning";
import { printedFiles } from "../build/printedFiles";
import { weigh } from "../build/weighing";
import { PrintVariants } from "../build/whatIf";
import { comparisonLines, type PrintComparison, whatIfLines, wishLines } from "../export/planChoices";
import { planText } from "../export/planText";
import type { Report } from "../export/report";
import { loadKernel } from "../geometry/solid/kernel";
import { type Message, MessageError } from "../message";
import type { Orientation } from "../orientation";
import { parseWish } from "../print/whatIf/parseWish";
import type { WhatIfTable } from "../print/whatIf/whatIf";
import type { WishAnswer } from "../print/whatIf/wishAnswer";
import { builtDesign } from "./builtDesign";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { designOptions, designRequest, existing, limitOptions } from "./designOptions";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";
import { writtenText } from "./writtenFiles";

/** `anadem plan DESIGN`: which way up, how long, how much, in how many pieces? */
export const planCommand: Command = {
  name: "plan",
  operand: "DESIGN",
  summary: "plans the print: which way up, hours, filament, supports, pieces, what would change it",
  options: {
    ...designOptions,
    print: {
      value: "FILE",
      help: "print settings instead of the design's own; given again: others, side by side",
      repeats: true,
    },
    orientation: {
      value: "WAY",
      help: '"as designed", "best", or tilt,towards,turn in degrees, instead of the design\'s own',
    },
    props: { help: "also prints the props that the plan proposes for thin columns of support" },
    "what-if": { help: "a table of what other settings and ways up would take" },
    wish: { value: "TEXT", help: 'finds the cheapest change for a wish such as "under 60 h, one spool"' },
    out: {
      value: "DIR",
      help: "also writes what is printed there: STL and 3MF as they lie, workshop sheet, reports",
    },
    json: { help: "prints one JSON object: ok, messages, report, files, and what was asked for besides" },
    ...limitOptions,
  },
  run: (design, options, terminal) =>
    interruptible((signal) => runPlan(resolve(design), options, terminal, signal)),
};

/** What was asked for besides the plan. */
interface Extras {
  comparisons?: readonly PrintComparison[];
  whatIf?: WhatIfTable;
  wish?: WishAnswer;
}

async function runPlan(
  design: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  const [own, ...others] = (options.print as readonly string[] | undefined) ?? [];
  const request: BuildRequest = {
    ...designRequest(design, { ...options, print: own }),
    ...(options.orientation !== undefined && { orientation: orientationOf(String(options.orientation)) }),
  };
  const compared = others.map((file) => existing(resolve(file), "--print"));
  const wish = options.wish === undefined ? undefined : readable(String(options.wish));
  const proposals = options.props === true ? "printed" : "told";
  const files: FinishedFile[] = [];
  const extras: Extras = {};
  let piece: PlannedPiece | undefined;
  /** The solid does not depend on how it is printed: only its plan is made anew. */
  const comparisonWith = (file: string, finished: Finished): PrintComparison => {
    signal.throwIfAborted();
    terminal.progress("planning");
    const set = printSetupFrom(file, finished.result);
    const print = request.orientation ? { ...set, orientation: request.orientation } : set;
    const other = { ...finished, parties: { ...finished.parties, print } };
    const weighed = weigh(other, piece?.weighed.fit);
    const plan = reportPlanOf(planOf(kernel, weighed, { proposals }), weighed, other);
    return { name: plan.settingsName, plan };
  };
  const kernel = await loadKernel(installedFiles().kernel);
  const messages = await builtDesign(request, terminal, signal, async (finished, found) => {
    terminal.progress("planning");
    piece = planPiece(kernel, judgePiece(finished), { proposals });
    signal.throwIfAborted();
    const { plan, weighed } = piece;
    if (wish || options["what-if"]) {
      const variants = new PrintVariants(plan, weighed);
      terminal.progress("comparing");
      if (options["what-if"]) extras.whatIf = await variants.table(signal);
      if (wish) extras.wish = await variants.meet(wish, signal);
    }
    if (options.out !== undefined) {
      const print = printedFiles(kernel, piece);
      files.push(
        ...(await placePiece({ ...piece, print }, { folder: resolve(String(options.out)) }, signal)),
      );
    }
    if (compared.length > 0) {
      const name = piece.report.plan!.settingsName;
      const rows = [{ name, plan: piece.report.plan! }];
      for (const file of compared) {
        try {
          rows.push(comparisonWith(file, finished));
        } catch (error) {
          if (!(error instanceof MessageError)) throw error;
          found.push(...error.messages);
        }
      }
      extras.comparisons = rows;
    }
  });
  return tell(piece?.report, extras, files, messages, options, terminal);
}

function tell(
  report: Report | undefined,
  extras: Extras,
  files: readonly FinishedFile[],
  messages: readonly Message[],
  options: OptionValues,
  terminal: Terminal,
): number {
  const isPlanned = report !== undefined && !messages.some(({ severity }) => severity === "error");
  const ok = isPlanned && (extras.wish === undefined || extras.wish.outcome === "met");
  if (options.json) {
    terminal.printJson({ ok, messages, report: report ?? null, files, ...extras });
  } else if (report) {
    const more = [
      ...(extras.comparisons ? comparisonLines(extras.comparisons) : []),
      ...(extras.whatIf ? whatIfLines(extras.whatIf, report.plan?.currency) : []),
      ...(extras.wish ? wishLines(extras.wish) : []),
    ];
    terminal.print(planText(report, { colour: terminal.colourOut, more }));
    if (files.length > 0) terminal.print(writtenText(files));
  }
  terminal.tell(messages);
  return ok ? exitCodes.good : exitCodes.faulty;
}

function readable(text: string) {
  const { wish, problems } = parseWish(text);
  if (wish) return wish;
  throw new UsageError(`--wish: ${problems[0].text}`, problems[0].suggestion);
}

/** Which way up, as it is written on the command line. */
function orientationOf(text: string): "as designed" | "best" | Orientation {
  const word = text.trim().toLowerCase().replace("-", " ");
  if (word === "best" || word === "as designed") return word;
  const [tilt, towards = 0, turn = 0, ...more] = text
    .split(",")
    .map((angle) => (angle.trim() === "" ? NaN : Number(angle)));
  const isAngle = (angle: number, most: number) => Number.isFinite(angle) && Math.abs(angle) <= most;
  if (more.length > 0 || !isAngle(tilt, 180) || tilt < 0 || !isAngle(towards, 360) || !isAngle(turn, 360)) {
    throw new UsageError(
      `--orientation is "${text}"`,
      'give "as designed", "best", or the tilt (0 to 180), the side that comes to look up and the turn, such as 35,180,0',
    );
  }
  return { tilt, towards, turn };
}
