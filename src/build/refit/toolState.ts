import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { hashOf } from "./keptRow";

/** Stands for the tool that makes rows: its version and its programs. */
export function toolState(script: string): string {
  const programs = [script, join(dirname(script), "evaluator.cjs")].map((path) => {
    try {
      return hashOf(readFileSync(path));
    } catch {
      return "";
    }
  });
  return [process.env.ANADEM_VERSION ?? "", ...programs].join(" ");
}
