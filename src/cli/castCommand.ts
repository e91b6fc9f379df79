import { existsSync, statSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { castEnding, castFiles, castsIn } from "../build/cast/castFiles";
import { type CastResult, castFolder, planCast } from "../build/cast/planCast";
import { startingCast } from "../build/cast/startingCast";
import { placeFiles } from "../build/placeFiles";
import { castText } from "../export/castText";
import { dateOf, dayOf } from "../print/schedule/calendar";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { limitOptions, numberOption } from "./designOptions";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";
import { type WrittenFile, writtenText } from "./writtenFiles";

/** `anadem cast CAST`: hours by printer, spools to buy, what fits nobody, the order to print for a date. */
export const castCommand: Command = {
  name: "cast",
  operand: "CAST",
  operands: "at most one",
  summary: "plans the printing of a whole cast: who wears what, on which printer, in which order, by when",
  options: {
    out: {
      value: "DIR",
      help: "folder for the pieces and what is kept to go on; out/cast beside the cast unless given",
    },
    sheet: { help: "also writes the plan as a sheet to print, NAME.cast.html, and as data" },
    today: { value: "DATE", help: "plans as if today were that day, as YYYY-MM-DD" },
    afresh: { help: "makes all pieces again, also those that are good already" },
    processes: { value: "N", help: "how many pieces are made at once; one a core unless given" },
    new: {
      value: "NAME",
      help: "writes NAME.cast.json to begin with, from the designs, wearers and printers here",
    },
    json: { help: "prints one JSON object: ok, messages, report, files" },
    ...limitOptions,
  },
  run: (operand, options, terminal) =>
    interruptible((signal) =>
      options.new === undefined
        ? runCast(castOf(operand), options, terminal, signal)
        : runNew(String(options.new), operand, options, terminal, signal),
    ),
};

async function runCast(
  file: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  const folder = options.out === undefined ? castFolder(file) : resolve(String(options.out));
  const made = { done: 0, all: 0 };
  let result: CastResult;
  try {
    result = await planCast(
      {
        file,
        folder,
        today: todayOf(options.today),
        ...(options.afresh === true && { afresh: true }),
        ...numberOption(options, "processes", "processes"),
        ...numberOption(options, "time-limit", "timeLimitSeconds"),
        ...numberOption(options, "memory-limit", "memoryLimitMB"),
      },
      fileURLToPath(import.meta.url),
      {
        signal,
        onProgress: (done, all) => {
          Object.assign(made, { done, all });
          terminal.progress(`making pieces, ${done} of ${all}`, done / all);
        },
      },
    );
  } catch (error) {
    if (!signal.aborted) throw error;
    return tellStopped(made, folder, options, terminal);
  }
  const written = await write(result, file, folder, options, signal);
  return tell(result, written, options, terminal);
}

/** What was made is kept: the next run goes on from there. */
function tellStopped(
  { done, all }: { readonly done: number; readonly all: number },
  folder: string,
  options: OptionValues,
  terminal: Terminal,
): number {
  const text =
    done === 0
      ? "stopped before the first piece was made"
      : `stopped; ${done} of ${all} pieces are kept in ${near(folder)}, and the next run goes on from there`;
  const messages = [{ id: "stopped", severity: "error" as const, text }];
  if (options.json) terminal.printJson({ ok: false, messages, report: null, files: [] });
  terminal.remark(`anadem: ${text}`);
  return exitCodes.interrupted;
}

async function write(
  { report }: CastResult,
  file: string,
  folder: string,
  options: OptionValues,
  signal: AbortSignal,
): Promise<WrittenFile[]> {
  if (!report || options.sheet !== true) return [];
  const files = castFiles(report, file, folder);
  await placeFiles(files, { signal });
  return files.map(({ path, kind }) => ({ path, kind }));
}

function tell(
  { report, messages }: CastResult,
  files: readonly WrittenFile[],
  options: OptionValues,
  terminal: Terminal,
): number {
  const ok = report?.ok ?? false;
  if (options.json) terminal.printJson({ ok, messages, report: report ?? null, files });
  else if (report) {
    terminal.print(castText(report, { colour: terminal.colourOut }));
    if (files.length > 0) terminal.print(writtenText(files));
  }
  // The plan's own text has what was found; without a plan that is all there is.
  if (!report || options.json) terminal.tell(messages);
  return ok ? exitCodes.good : exitCodes.faulty;
}

async function runNew(
  wanted: string,
  operand: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  if (operand !== "") throw new UsageError("--new takes no CAST besides", "write anadem cast --new NAME");
  const name = wanted.replace(/\.cast\.json$/, "");
  if (!/^[\p{L}\p{N}][\p{L}\p{N} ._-]*$/u.test(name)) {
    throw new UsageError(`"${name}" cannot name a cast`, "use letters, digits, - and _, as in tide-court");
  }
  const path = resolve(`${name}${castEnding}`);
  if (existsSync(path))
    throw new UsageError(`${path} is there already`, "choose another name; nothing was changed");
  const files = [{ kind: "cast", path, content: startingCast(process.cwd(), name, todayOf(options.today)) }];
  await placeFiles(files, { signal });
  const written = files.map(({ path: file, kind }) => ({ path: file, kind }));
  if (options.json) terminal.printJson({ ok: true, messages: [], report: null, files: written });
  else
    terminal.print(
      `${writtenText(written)}\nNext: set "opens" to the first night, then anadem cast ${near(path)}`,
    );
  return exitCodes.good;
}

/** The cast's file: the one given, else the only one of the folder given or of the one it is run in. */
function castOf(operand: string): string {
  const path = resolve(operand);
  const isFolder = statSync(path, { throwIfNoEntry: false })?.isDirectory() ?? false;
  if (!isFolder) {
    if (existsSync(path)) return path;
    const others = castsIn(join(path, ".."));
    throw new UsageError(
      `CAST: there is no file ${path}`,
      others.length > 0 ? `there is ${others.map(near).join(", ")}` : "anadem cast --new NAME begins one",
    );
  }
  const found = castsIn(path);
  if (found.length === 1) return found[0];
  throw found.length === 0
    ? new UsageError(
        `${path} has no cast: a file NAME${castEnding} that says who wears what`,
        "anadem cast --new NAME begins one from the designs and wearers here",
      )
    : new UsageError(
        `${path} has ${found.length} casts: ${found.map(near).join(", ")}`,
        `name one, as in anadem cast ${near(found[0])}`,
      );
}

const near = (path: string): string => {
  const shown = relative(process.cwd(), path);
  return shown === "" || shown.startsWith("..") ? path : shown;
};

/** Today as the clock on the wall has it, or the day that stands in for it. */
function todayOf(option: OptionValues[string]): number {
  if (option === undefined) {
    const now = new Date();
    return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / 86_400_000;
  }
  const day = dayOf(String(option));
  if (day === undefined) {
    throw new UsageError(
      `--today is "${String(option)}"`,
      `write year, month and day, as in ${dateOf(20_000)}`,
    );
  }
  return day;
}
