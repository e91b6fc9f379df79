import type { Part } from "../../design/part";
import type { Report } from "../../export/report";
import type { TriangleMesh } from "../../geometry/mesh";
import { type Message, MessageError } from "../../message";
import { Engine, type EngineFiles } from "../engine";
import { finishedOf, judgePiece, planPiece } from "../finishedFiles";
import type { OpenTexts } from "../sourceTexts";
import type { CompareRequest } from "./comparison";

/** One of the two pieces that are compared, as it is asked for. */
export interface SideRequest
  extends Pick<
    CompareRequest,
    "wearer" | "printer" | "material" | "print" | "settings" | "values" | "timeLimitSeconds" | "memoryLimitMB"
  > {
  /** Absolute. */
  readonly design: string;
  readonly texts?: OpenTexts;
}

/** A piece, built, measured and planned. */
export interface BuiltSide {
  readonly report: Report;
  readonly mesh: TriangleMesh;
  readonly parts: readonly Part[];
}

export interface SideResult {
  /** Absent where it came to no solid. */
  readonly built?: BuiltSide;
  readonly messages: readonly Message[];
  /** Files that it depends on, absolute. */
  readonly inputs: readonly string[];
}

/** Builds one of the two pieces as `anadem build` does, with its report. Rejects with the signal's reason on abort. */
export async function buildSide(
  request: SideRequest,
  files: EngineFiles,
  signal?: AbortSignal,
): Promise<SideResult> {
  const engine = new Engine(files);
  try {
    const build = await engine.build({ ...request, ...(signal && { signal }) });
    const messages = [...build.messages];
    const finished = finishedOf(request.design, build);
    if (!finished) return { messages, inputs: build.inputs };
    try {
      const judged = judgePiece(finished);
      signal?.throwIfAborted();
      const { report } = planPiece(await engine.kernel(), judged, { proposals: "none" });
      const { positions, triangles } = finished.solid.mesh;
      const built = { report, mesh: { positions, triangles }, parts: finished.result.parts };
      return { built, messages, inputs: build.inputs };
    } catch (error) {
      if (!(error instanceof MessageError)) throw error;
      return { messages: [...messages, ...error.messages], inputs: build.inputs };
    }
  } finally {
    await engine.dispose();
  }
}
