import { dirname, join } from "node:path";
import type { Message } from "../message";
import type { LimitValues } from "../wearLimits";
import { readDataFile } from "./dataFile";
import { isSource, type OpenTexts } from "./sourceTexts";

/** The file that sets limits for all designs in its folder and below. */
export const workspaceLimitsName = "anadem.limits.json";

/** Folders looked into, the design's own counted. */
const mostFolders = 32;

/** Limits of the workspace, with the file that they stand in; both absent where there is none. */
export interface WorkspaceLimits {
  readonly values?: LimitValues;
  /** Absolute. */
  readonly file?: string;
  readonly messages: readonly Message[];
}

/** Reads `anadem.limits.json` in the design's folder or the nearest one above it that has one. */
export function readWorkspaceLimits(design: string, texts?: OpenTexts): WorkspaceLimits {
  let folder = dirname(design);
  for (let i = 0; i < mostFolders; i++) {
    const file = join(folder, workspaceLimitsName);
    if (isSource(file, texts)) {
      const { value, messages } = readDataFile(file, "limits", undefined, texts);
      return { ...(value && { values: value }), file, messages };
    }
    const above = dirname(folder);
    if (above === folder) break;
    folder = above;
  }
  return { messages: [] };
}
