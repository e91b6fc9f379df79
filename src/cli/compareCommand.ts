import { resolve } from "node:path";
import { installedFiles } from "../build/installedFiles";
import { sideProcess } from "../build/jobs/jobs";
import { nameOfDesign } from "../build/outputs";
import { compareVersions } from "../build/versions/compareVersions";
import type { CompareRequest, Comparison } from "../build/versions/comparison";
import { comparisonMarkdown } from "../build/versions/comparisonMarkdown";
import { comparisonText } from "../build/versions/comparisonText";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { designOptions, designRequest, limitOptions } from "./designOptions";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";

/** `anadem compare DESIGN`: the piece as it is against the one of a commit. */
export const compareCommand: Command = {
  name: "compare",
  operand: "DESIGN",
  summary: "compares a design with its version in a commit",
  options: {
    against: { value: "REV", help: "a commit as git names it: a hash, a branch, a tag; HEAD unless given" },
    ...designOptions,
    set: { ...designOptions.set, help: "the value of a parameter, in the piece as it is now" },
    json: { help: "prints one JSON object: ok, comparison, messages" },
    markdown: { help: "prints what a comment on a change can hold" },
    strict: { help: "exit code 1 when the two are not the same" },
    git: { value: "FILE", help: "git's executable; git unless given" },
    ...limitOptions,
  },
  run: (design, options, terminal) =>
    interruptible((signal) => runCompare(resolve(design), options, terminal, signal)),
};

async function runCompare(
  design: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  if (options.json && options.markdown) {
    throw new UsageError("--json and --markdown cannot be printed at once", "give one of them");
  }
  const { signal: _, ...asked } = designRequest(design, options);
  const request: CompareRequest = {
    ...asked,
    ...(options.against !== undefined && { against: String(options.against) }),
    ...(options.git !== undefined && { git: String(options.git) }),
  };
  const other = sideProcess(process.argv[1]);
  try {
    const { ok, comparison, messages } = await compareVersions(
      request,
      installedFiles(),
      (stage) => terminal.progress(stage),
      { signal, elsewhere: (side) => other.build(side, signal) },
    );
    if (options.json) terminal.printJson({ ok, comparison: comparison ?? null, messages });
    else if (comparison && options.markdown) {
      terminal.print(comparisonMarkdown(comparison, nameOfDesign(design)));
    } else if (comparison) terminal.print(comparisonText(comparison, { colour: terminal.colourOut }));
    terminal.tell(messages);
    if (!ok || !comparison) return exitCodes.faulty;
    return options.strict && !isSame(comparison) ? exitCodes.faulty : exitCodes.good;
  } finally {
    await other.end();
  }
}

const isSame = ({ added, removed, parts, changes }: Comparison): boolean =>
  added === 0 && removed === 0 && parts.length === 0 && changes.length === 0;
