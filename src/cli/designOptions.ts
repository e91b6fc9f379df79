import { existsSync } from "node:fs";
import { resolve } from "node:path";
import type { BuildRequest } from "../build/engine";
import { splitOnce } from "./arguments";
import { type OptionSpec, type OptionValues, UsageError } from "./command";

/** Options of every command that runs a design. */
export const designOptions = {
  wearer: { value: "FILE", help: "a wearer's file instead of the design's own" },
  printer: { value: "FILE", help: "a printer's file instead of the design's own" },
  material: { value: "FILE", help: "a material's file instead of the design's own" },
  print: { value: "FILE", help: "a file of print settings instead of the design's own" },
  set: { value: "name=value", help: "the value of a parameter", repeats: true },
} as const satisfies Record<string, OptionSpec>;

/** Options that bound the design's own code. */
export const limitOptions = {
  "time-limit": { value: "SECONDS", help: "for the design's own code; 10 unless given" },
  "memory-limit": { value: "MB", help: "for the design's own code; 1024 unless given" },
} as const satisfies Record<string, OptionSpec>;

/** What is asked of the engine. Throws a `UsageError` for a file that is not there and a value that is none. */
export function designRequest(design: string, options: OptionValues): BuildRequest {
  const parties = Object.fromEntries(
    (["wearer", "printer", "material", "print"] as const).flatMap((kind) => {
      const file = options[kind];
      return file === undefined ? [] : [[kind, existing(resolve(String(file)), `--${kind}`)]];
    }),
  );
  const settings = settingsOf((options.set as string[] | undefined) ?? []);
  existing(design, "DESIGN");
  return {
    design,
    ...parties,
    settings,
    ...numberOption(options, "time-limit", "timeLimitSeconds"),
    ...numberOption(options, "memory-limit", "memoryLimitMB"),
  };
}

function settingsOf(texts: readonly string[]): Record<string, string> {
  return Object.fromEntries(
    texts.map((text) => {
      const [name, value] = splitOnce(text, "=");
      if (name === "" || value === undefined) {
        throw new UsageError(
          `--set ${text} is not name=value`,
          "write for example --set branches=12; quote it where it has spaces",
        );
      }
      return [name, value];
    }),
  );
}

export function numberOption(options: OptionValues, name: string, key: string): Record<string, number> {
  if (options[name] === undefined) return {};
  const value = Number(options[name]);
  if (Number.isFinite(value) && value > 0) return { [key]: value };
  throw new UsageError(`--${name} is ${options[name]}`, "give a number above 0");
}

/** The path of a file that is there. */
export function existing(path: string, what: string): string {
  if (existsSync(path)) return path;
  throw new UsageError(`${what}: there is no file ${path}`, "check the path; it starts from this folder");
}
