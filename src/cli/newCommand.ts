import { existsSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { installedFiles } from "../build/installedFiles";
import { placeFiles } from "../build/placeFiles";
import { startingFiles } from "../build/startingFiles";
import { type Command, exitCodes, type OptionValues, UsageError } from "./command";
import { interruptible } from "./interrupt";
import type { Terminal } from "./terminal";
import { writtenText } from "./writtenFiles";

/** `anadem new NAME`: a design to begin with, its wearer, and what an editor needs to help. */
export const newCommand: Command = {
  name: "new",
  operand: "NAME",
  summary: "starts a design with a wearer, so that an editor completes and type-checks it",
  options: {
    json: { help: "prints one JSON object: ok, messages, report, files" },
  },
  run: (name, options, terminal) => interruptible((signal) => runNew(name, options, terminal, signal)),
};

async function runNew(
  operand: string,
  options: OptionValues,
  terminal: Terminal,
  signal: AbortSignal,
): Promise<number> {
  const wanted = operand.replace(/\.headpiece\.ts$/, "");
  const path = resolve(wanted);
  // What was written, not what it leads to: "../" names a folder, no design.
  const name = wanted.split(/[\\/]/).at(-1) ?? "";
  if (!/^[\p{L}\p{N}][\p{L}\p{N} ._-]*$/u.test(name)) {
    throw new UsageError(`"${name}" cannot name a design`, "use letters, digits, - and _, as in reed-crown");
  }
  const folder = dirname(path);
  const files = startingFiles(name, shippedTypes()).map((file) => ({
    ...file,
    path: join(folder, ...file.path.split("/")),
  }));
  const taken = files.filter(({ keep, path: file }) => !keep && existsSync(file));
  if (taken.length > 0) {
    throw new UsageError(
      `${taken.map(({ path: file }) => file).join(", ")} ${taken.length > 1 ? "are" : "is"} there already`,
      "choose another name; nothing was changed",
    );
  }
  const due = files.filter(({ keep, path: file }) => keep !== "if-there" || !existsSync(file));
  await placeFiles(due, { signal });
  const written = due.map(({ path: file, kind }) => ({ path: file, kind }));
  if (options.json) {
    terminal.printJson({ ok: true, messages: [], report: null, files: written });
  } else {
    terminal.print(`${writtenText(written)}\nNext: anadem build ${wanted}.headpiece.ts`);
  }
  return exitCodes.good;
}

function shippedTypes(): { anadem: string; modeling: string } {
  const { types, modelingTypes } = installedFiles();
  return { anadem: readFileSync(types, "utf8"), modeling: readFileSync(modelingTypes, "utf8") };
}
