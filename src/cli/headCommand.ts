import { existsSync } from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { readDataFile } from "../build/dataFile";
import { placeFiles } from "../build/placeFiles";
import { measuresOf } from "../build/reporting";
import { readWearerScan } from "../build/wearerScan";
import { composeHeadReport, headReportText } from "../export/headReport";
import { writeStl } from "../export/stl";
import { headFormOf } from "../head/wearerHead";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";
import { writtenText } from "./writtenFiles";

/** `anadem head WEARER`: the head form of a wearer, and what it measures. */
export const headCommand: Command = {
  name: "head",
  operand: "WEARER",
  summary: "exports the head form of a wearer, or of the scan that it names, and tells its measures",
  options: {
    out: { value: "DIR", help: "folder for what is made; out beside the wearer's file unless given" },
    json: { help: "prints one JSON object: ok, messages, report, files" },
  },
  run: (wearer, options, terminal) =>
    interruptible((signal) => runHead(resolve(wearer), options, terminal, signal)),
};

async function runHead(
  file: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  if (!existsSync(file)) throw new UsageError(`WEARER: there is no file ${file}`, "check the path");
  const { value: own, messages: found } = readDataFile(file, "wearer");
  const scan = own?.scan && readWearerScan(own, own.scan, file);
  const wearer = scan ? scan.wearer : own;
  const messages = [...found, ...(scan?.messages ?? [])];
  if (!wearer) {
    if (options.json) terminal.printJson({ ok: false, messages, report: null, files: [] });
    terminal.tell(messages);
    return exitCodes.faulty;
  }
  const form = headFormOf(wearer);
  const report = composeHeadReport(wearer.name, measuresOf(wearer, form), wearer.scan, wearer.scanned);
  const folder = options.out ? resolve(String(options.out)) : join(dirname(file), "out");
  const name = basename(file).replace(/\.wearer\.json$|\.json$/, "");
  const files = [
    { kind: "stl", path: join(folder, `${name}.head.stl`), content: writeStl(form.mesh(), wearer.name) },
    {
      kind: "report-json",
      path: join(folder, `${name}.head.json`),
      content: `${JSON.stringify(report, undefined, 2)}\n`,
    },
  ];
  await placeFiles(files, { signal });
  const written = files.map(({ path, kind }) => ({ path, kind }));
  if (options.json) terminal.printJson({ ok: true, messages, report, files: written });
  else terminal.print(`${headReportText(report)}\n${writtenText(written)}`);
  terminal.tell(messages);
  return exitCodes.good;
}
