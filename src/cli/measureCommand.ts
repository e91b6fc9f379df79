import { existsSync, readFileSync } from "node:fs";
import { basename, resolve } from "node:path";
import { readDataFile, readDataText } from "../build/dataFile";
import { placeFiles } from "../build/placeFiles";
import { measuresInText, newWearerText, takeReadings } from "../build/takeReadings";
import { documentOf } from "../build/wearerEdit";
import { meanHead } from "../export/measuring/meanHead";
import {
  composeMeasuringReport,
  type MeasuringReport,
  measuringText,
} from "../export/measuring/measuringReport";
import { measuringSheet } from "../export/measuring/measuringSheet";
import { inUnit } from "../head/units";
import type { Message } from "../message";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { interruptible } from "./interrupt";
import { readReadings, readUnit } from "./readingOptions";
import type { Terminal } from "./terminal";
import { writtenText } from "./writtenFiles";

/** `anadem measure [WEARER]`: a sheet to measure by, and what was read taken down. */
export const measureCommand: Command = {
  name: "measure",
  operand: "[WEARER]",
  operands: "at most one",
  summary: "writes a measuring sheet, blank or of a wearer, or takes readings down into a wearer's file",
  options: {
    reading: {
      value: "MEASURE=NUMBER",
      repeats: true,
      help: "adds a reading to the wearer's file, in its units: --reading girth=567",
    },
    name: { value: "NAME", help: "the wearer's name, where the file is made anew" },
    units: { value: "UNIT", help: "mm, cm or in, where the file is made anew; mm unless given" },
    out: { value: "FILE", help: "where the sheet goes; measuring-sheet.html in this folder unless given" },
    replace: { help: "lets the sheet take the place of a file that is there" },
    json: { help: "prints one JSON object: ok, messages, report, files" },
  },
  run: (operand, options, terminal) =>
    interruptible((signal) => {
      const given = options.reading as readonly string[] | undefined;
      if (given) return takeDown(operand, given, options, terminal, signal);
      for (const only of ["name", "units"]) {
        if (options[only] !== undefined)
          throw new UsageError(`--${only} goes with --reading`, "give a reading, as in --reading girth=567");
      }
      return writeSheet(operand, options, terminal, signal);
    }),
};

async function writeSheet(
  operand: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  let known:
    | { readonly report: MeasuringReport; readonly hair?: string; readonly notes?: string }
    | undefined;
  let messages: readonly Message[] = [];
  if (operand !== "") {
    const file = resolve(operand);
    if (!existsSync(file)) {
      throw new UsageError(
        `WEARER: there is no file ${file}`,
        `check the path; to make it, give a reading: anadem measure ${operand} --name NAME --reading girth=567`,
      );
    }
    const { value: wearer, messages: said } = readDataFile(file, "wearer");
    const lacksGirthOnly = said.every(({ severity, id }) => severity !== "error" || id === "missing-girth");
    if (!wearer && !lacksGirthOnly) return faulty(said, options, terminal);
    const text = readFileSync(file, "utf8");
    messages = said;
    known = {
      report: reportOf(text, file),
      ...(wearer && { hair: hairWords(text, wearer.hairThickness) }),
      ...(wearer?.notes !== undefined && { notes: wearer.notes }),
    };
  }
  const stem = operand === "" ? "" : `${basename(operand).replace(/\.wearer\.json$|\.json$/, "")}.`;
  const path = resolve(options.out === undefined ? `${stem}measuring-sheet.html` : String(options.out));
  if (existsSync(path) && !options.replace) {
    throw new UsageError(
      `${path} is there already`,
      "give --replace to write it anew, or --out FILE for another place",
    );
  }
  await placeFiles([{ path, content: measuringSheet({ form: meanHead(), ...known }) }], { signal });
  const files = [{ path, kind: "measuring-sheet" }];
  const report = known?.report ?? null;
  if (options.json) terminal.printJson({ ok: true, messages, report, files });
  else terminal.print(`${known ? `${measuringText(known.report)}\n` : ""}${writtenText(files)}`);
  terminal.tell(messages);
  return exitCodes.good;
}

async function takeDown(
  operand: string,
  given: readonly string[],
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  if (operand === "") {
    throw new UsageError(
      "--reading needs the wearer's file",
      "write anadem measure NAME.wearer.json --reading girth=567",
    );
  }
  for (const only of ["out", "replace"]) {
    if (options[only] !== undefined)
      throw new UsageError(`--${only} is for the sheet, not for readings`, "leave it out");
  }
  const file = resolve(operand);
  const isNew = !existsSync(file);
  if (!isNew && (options.name !== undefined || options.units !== undefined)) {
    throw new UsageError(
      `${file} is there already, with its own name and units`,
      "leave --name and --units out",
    );
  }
  if (isNew && options.name === undefined) {
    throw new UsageError(`there is no file ${file}`, "check the path, or give --name NAME to make it");
  }
  if (isNew && !file.endsWith(".wearer.json")) {
    throw new UsageError(
      `a wearer's file is called NAME.wearer.json, not ${basename(file)}`,
      `write ${operand.replace(/(\.wearer)?(\.json)?$/, "")}.wearer.json`,
    );
  }
  const before = isNew
    ? newWearerText(String(options.name), readUnit(options.units))
    : readFileSync(file, "utf8");
  const { units } = measuresInText(before);
  const { text, messages } = takeReadings(before, file, readReadings(given, units), "add");
  await placeFiles([{ path: file, content: text }], { signal });
  // A girth that is still to be taken is told among what is missing.
  const said = messages.map(
    (message): Message => (message.id === "missing-girth" ? { ...message, severity: "warning" } : message),
  );
  const report = reportOf(text, file);
  const files = [{ path: file, kind: "wearer" }];
  if (options.json) terminal.printJson({ ok: true, messages: said, report, files });
  else terminal.print(`${measuringText(report)}\n${writtenText(files)}`);
  terminal.tell(said);
  return exitCodes.good;
}

/** What a wearer's file tells of its measures; estimates need a girth. */
function reportOf(text: string, file: string): MeasuringReport {
  const { units, taken } = measuresInText(text);
  const { value: wearer } = readDataText(text.replace(/^\uFEFF/, ""), file, "wearer");
  const name = documentOf(text).name;
  return composeMeasuringReport(
    wearer?.name ?? (typeof name === "string" ? name : ""),
    units,
    taken,
    wearer?.estimated ?? [],
  );
}

function hairWords(text: string, thickness: number): string {
  const { units } = measuresInText(text);
  const given = documentOf(text).hairThickness !== undefined;
  return given ? inUnit(thickness, units) : `${inUnit(thickness, units)} unless measured`;
}

function faulty(messages: readonly Message[], options: OptionValues, terminal: Terminal): number {
  if (options.json) terminal.printJson({ ok: false, messages, report: null, files: [] });
  terminal.tell(messages);
  return exitCodes.faulty;
}
