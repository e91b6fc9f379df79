import { dirname, join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { placeFiles } from "../build/placeFiles";
import type { RefitRow } from "../build/refit/refitRow";
import { type RefitRequest, type RefitTable, refit } from "../build/refit/refitting";
import { alone } from "../build/refit/rowLock";
import { refitCautions } from "../export/refitCautions";
import { refitMarkdown } from "../export/refitMarkdown";
import { refitText } from "../export/refitText";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { designOptions, designRequest, existing, limitOptions } from "./designOptions";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";
import { wearerFiles } from "./wearerFiles";
import { writtenText } from "./writtenFiles";

const { printer, material, print } = designOptions;

/** `anadem refit DESIGN…`: every design on every wearer. */
export const refitCommand: Command = {
  name: "refit",
  operand: "DESIGN…",
  operands: "several",
  summary:
    "fits designs to wearers: one table, files of what passes; exit code 1 when none passes or a row fails",
  options: {
    wearers: {
      value: "DIR|FILE",
      help: "a folder, of which all *.wearer.json directly in it are taken, or a file; the design's own wearer comes first",
      repeats: true,
    },
    out: {
      value: "DIR",
      help: "folder for what is made and kept to resume, DIR/DESIGN/WEARER; out/refit beside the first design unless given",
    },
    whole: { help: "all files and the whole plan, as anadem build makes them; slower" },
    afresh: { help: "makes rows again that are good already" },
    processes: { value: "N", help: "processes at once; one a core unless given" },
    printer,
    material,
    print,
    json: { help: "prints one JSON object: ok, rows, messages, cautions, files" },
    ...limitOptions,
  },
  run: (_, options, terminal, operands) =>
    interruptible((signal) =>
      runRefit(
        operands.map((design) => resolve(design)),
        options,
        terminal,
        signal,
      ),
    ),
};

async function runRefit(
  designs: readonly string[],
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  const request = requestOf(designs, options);
  const { folder } = request;
  const left = { kept: 0, all: 0 };
  let table: RefitTable;
  try {
    table = await refit(request, fileURLToPath(import.meta.url), {
      signal,
      onStopped: (kept, all) => Object.assign(left, { kept, all }),
      onProgress: (done, all) =>
        terminal.progress(`fitting ${done} of ${all}`, all > 0 ? done / all : undefined),
    });
  } catch (error) {
    if (!signal.aborted) throw error;
    const text = `stopped; ${left.kept} of ${left.all} rows are kept in ${shown(folder)}`;
    const suggestion = `the same command${options.afresh ? " without --afresh" : ""} goes on from there`;
    if (options.json) {
      const message = { id: "stopped", severity: "error", text, suggestion };
      terminal.printJson({ ok: false, rows: [], messages: [message], cautions: [], files: [] });
    }
    terminal.remark(`anadem: ${text}\n  hint: ${suggestion}`);
    return exitCodes.interrupted;
  }
  const { rows, messages } = table;
  const cautions = refitCautions(rows);
  const files = await placeTables(folder, rows, cautions);
  const ok = rows.some(({ passes }) => passes) && !rows.some(({ verdict }) => verdict === "failed");
  if (options.json) terminal.printJson({ ok, rows, messages, cautions, files });
  else {
    terminal.print(refitText(rows, cautions, { colour: terminal.colourOut }));
    terminal.print(writtenText(files));
  }
  terminal.tell([...messages, ...messagesOf(rows)]);
  return ok ? exitCodes.good : exitCodes.faulty;
}

function requestOf(designs: readonly string[], options: OptionValues): RefitRequest & { folder: string } {
  const { wearers = [], processes, out } = options;
  if ((wearers as readonly string[]).length === 0) {
    throw new UsageError("anadem refit lacks --wearers", "write --wearers DIR, a folder of *.wearer.json");
  }
  for (const design of designs) existing(design, "DESIGN");
  // The designs' own values are read where they are built.
  const { design: first, settings: _, ...request } = designRequest(designs[0], options);
  return {
    ...request,
    designs,
    wearers: wearerFiles(wearers as readonly string[], "--wearers"),
    folder: out === undefined ? join(dirname(first), "out", "refit") : resolve(String(out)),
    ...(options.afresh === true && { afresh: true }),
    ...(options.whole === true && { whole: true }),
    ...(processes !== undefined && { processes: countOf(String(processes)) }),
  };
}

function countOf(text: string): number {
  const count = Number(text);
  if (Number.isInteger(count) && count >= 1) return count;
  throw new UsageError(`--processes is ${text}`, "give a whole number from 1");
}

/** Writes the table beside the rows: `refit.json` and `refit.md`, the same for the same pieces whenever they were made. */
async function placeTables(folder: string, rows: readonly RefitRow[], cautions: readonly string[]) {
  const plain = rows.map(({ kept: _, ...row }) => row);
  const document = { format: "anadem-refit", formatVersion: 1, rows: plain, cautions };
  const files = [
    {
      path: join(folder, "refit.json"),
      kind: "refit-json",
      content: `${JSON.stringify(document, undefined, 2)}\n`,
    },
    { path: join(folder, "refit.md"), kind: "refit-markdown", content: refitMarkdown(rows, cautions) },
  ];
  await alone(folder, () => placeFiles(files));
  return files.map(({ path, kind }) => ({ path, kind }));
}

/** What was said of rows, each once: a design that is wrong is so on every wearer. */
function messagesOf(rows: readonly RefitRow[]) {
  const known = new Map(
    rows.flatMap(({ messages }) => messages.map((one) => [JSON.stringify(one), one] as const)),
  );
  return [...known.values()];
}

function shown(path: string): string {
  const near = relative(process.cwd(), path);
  return near.startsWith("..") || near === "" ? path : near;
}
