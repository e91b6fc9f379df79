import { readdirSync } from "node:fs";
import { join } from "node:path";
import { type CastReport, castJson } from "../../export/castReport";
import { castSheet } from "../../export/castSheet/castSheet";
import type { FileToPlace } from "../placeFiles";
import { nameOfCast } from "./planCast";

export const castEnding = ".cast.json";

/** The casts directly in a folder, by name; none where there is no such folder. */
export function castsIn(folder: string): string[] {
  try {
    return readdirSync(folder)
      .filter((name) => name.endsWith(castEnding))
      .sort()
      .map((name) => join(folder, name));
  } catch {
    return [];
  }
}

/** The files of a plan: the sheet, and the plan as data. */
export const castFiles = (
  report: CastReport,
  file: string,
  folder: string,
): (FileToPlace & { kind: string })[] => [
  { kind: "cast-html", path: join(folder, `${nameOfCast(file)}.cast.html`), content: castSheet(report) },
  {
    kind: "cast-plan-json",
    path: join(folder, `${nameOfCast(file)}.cast-plan.json`),
    content: castJson(report),
  },
];
