import { type Report, reportJson } from "../../export/report";
import { type Message, MessageError } from "../../message";
import type { Engine } from "../engine";
import { judgedStl } from "../judgedStl";
import { committedReportOf, outputFiles } from "../outputs";
import { type FileToPlace, placeFiles } from "../placeFiles";
import { type Finished, reportOn } from "../reporting";
import { buildRequestOf } from "./buildRequest";
import type { ExportOutcome, ExportRequest, ServiceRequest } from "./protocol";

type Made = { readonly finished?: Finished; readonly messages: Message[] };

/** Builds as the command line does (exactly, in a process that ran nothing before) and writes the files whole. */
export async function exportDesign(
  engine: Engine,
  request: ExportRequest,
  signal: AbortSignal,
): Promise<ExportOutcome> {
  const { finished, messages } = await makeExactly(engine, request, signal);
  if (!finished) return { ok: false, messages, files: [] };
  try {
    const { bytes, audit } = judgedStl(finished);
    const report = reportOn(finished, audit);
    const files = filesOf(finished, report, bytes, request);
    await placeFiles(files, { signal });
    return { ok: true, messages, report, files: files.map(({ path, kind }) => ({ path, kind })) };
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return { ok: false, messages: [...messages, ...error.messages], files: [] };
  }
}

type ExportFile = FileToPlace & ExportOutcome["files"][number];

function filesOf(
  finished: Finished,
  report: Report,
  stl: Uint8Array,
  { folder, committedReport }: ExportRequest,
): ExportFile[] {
  const committed: ExportFile = {
    path: committedReportOf(finished.design),
    kind: "committed-report",
    content: reportJson(report),
  };
  if (committedReport === "alone") return [committed];
  const files: ExportFile[] = outputFiles(finished, report, stl, folder);
  return committedReport === "also" ? [...files, committed] : files;
}

/** The drawing sheet of a design, as SVG. */
export async function sheetOf(
  engine: Engine,
  request: ServiceRequest,
  signal: AbortSignal,
): Promise<{ svg?: string; messages: readonly Message[] }> {
  const { finished, messages } = await makeExactly(engine, request, signal);
  if (!finished) return { messages };
  const { bytes, audit } = judgedStl(finished);
  const sheet = outputFiles(finished, reportOn(finished, audit), bytes, "").find(
    ({ kind }) => kind === "drawing-svg",
  );
  return { ...(sheet && { svg: String(sheet.content) }), messages };
}

async function makeExactly(engine: Engine, request: ServiceRequest, signal: AbortSignal): Promise<Made> {
  const build = await engine.build({ ...buildRequestOf(request), signal, isFresh: true });
  const messages = [...build.messages];
  const { ok, result, parties, head, solid } = build;
  if (!ok || !result || !parties || !head || !solid) return { messages };
  return { finished: { design: request.design, result, parties, head, solid, messages }, messages };
}
