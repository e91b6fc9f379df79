import { dirname, join } from "node:path";
import type { LimitValues } from "../wearLimits";
import { readDataFile } from "./dataFile";
import type { DataReading } from "./dataReading";
import { isSource, type OpenTexts } from "./sourceTexts";

/** The file that sets limits for all designs in its folder and below. */
export const workspaceLimitsName = "anadem.limits.json";

/** Folders looked into, the design's own counted. */
const mostFolders = 32;

/** The file that sets the limits of a design: the nearest there is, else where one would be looked for first. */
export function workspaceLimitsFile(design: string, texts?: OpenTexts): string {
  const own = dirname(design);
  let folder = own;
  for (let i = 0; i < mostFolders; i++) {
    const file = join(folder, workspaceLimitsName);
    if (isSource(file, texts)) return file;
    const above = dirname(folder);
    if (above === folder) break;
    folder = above;
  }
  return join(own, workspaceLimitsName);
}

/** Reads the limits that hold for a design's folder; no value where there are none. */
export function readWorkspaceLimits(design: string, texts?: OpenTexts): DataReading<LimitValues> {
  const file = workspaceLimitsFile(design, texts);
  return isSource(file, texts) ? readDataFile(file, "limits", undefined, texts) : { messages: [] };
}
