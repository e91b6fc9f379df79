import type { EngineFiles } from "../engine";
import type { CompareRequest, CompareResult } from "./comparison";

/** Builds a design as it is and as it was in a commit, and compares the two. */
export async function compareVersions(
  _request: CompareRequest,
  _files: EngineFiles,
  _tell: (stage: string) => void = () => {},
): Promise<CompareResult> {
  throw new Error("not there yet");
}
