import { type Message, MessageError } from "../../message";
import type { Engine } from "../engine";
import type { Finished } from "../finished";
import { filesOf, finishedOf, judgePiece, placePiece, planPiece } from "../finishedFiles";
import { printedFiles } from "../printedFiles";
import { buildRequestOf } from "./buildRequest";
import type { ExportOutcome, ExportRequest, ServiceRequest } from "./protocol";

type Made = { readonly finished?: Finished; readonly messages: readonly Message[] };

/** Builds as the command line does (exactly, in a process that ran nothing before) and writes the files whole. */
export async function exportDesign(
  engine: Engine,
  request: ExportRequest,
  signal: AbortSignal,
): Promise<ExportOutcome> {
  const { finished, messages } = await makeExactly(engine, request, signal);
  if (!finished) return { ok: false, messages, files: [] };
  try {
    const kernel = await engine.kernel();
    const piece = planPiece(kernel, judgePiece(finished), { proposals: "none" });
    signal.throwIfAborted();
    const print = request.committedReport === "alone" ? [] : printedFiles(kernel, piece);
    const files = await placePiece({ ...piece, print }, request, signal);
    return { ok: true, messages, report: piece.report, files };
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return { ok: false, messages: [...messages, ...error.messages], files: [] };
  }
}

/** The drawing sheet of a design, as SVG. */
export async function sheetOf(
  engine: Engine,
  request: ServiceRequest,
  signal: AbortSignal,
): Promise<{ svg?: string; messages: readonly Message[] }> {
  const { finished, messages } = await makeExactly(engine, request, signal);
  if (!finished) return { messages };
  const sheet = filesOf(judgePiece(finished), { folder: "" }).find(({ kind }) => kind === "drawing-svg");
  return { ...(sheet && { svg: String(sheet.content) }), messages };
}

async function makeExactly(engine: Engine, request: ServiceRequest, signal: AbortSignal): Promise<Made> {
  const build = await engine.build({ ...buildRequestOf(request), signal, isFresh: true });
  return { finished: finishedOf(request.design, build), messages: build.messages };
}
