import { readdirSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, resolve } from "node:path";
import { getNodeValue } from "jsonc-parser";
import type { TriangleMesh } from "../geometry/mesh";
import { readMeshBytes } from "../geometry/meshFile";
import { type ScannedWearer, wearerOfScan } from "../head/scannedHead";
import type { ScanRequest } from "../head/scanRequest";
import type { Wearer } from "../head/wearer";
import { type Message, MessageError, type Place } from "../message";
import { nearestName } from "../nearestName";
import { parseJsonText, placeOfField, TextPlaces } from "./jsonText";
import { LatestKept } from "./latestKept";
import { type OpenTexts, sourceText } from "./sourceTexts";

/** A wearer with the head of the scan that its file names. */
export interface WearerScan {
  /** Undefined where there are errors among the messages. */
  readonly wearer?: Wearer;
  /** At the wearer's file, at the field that each is about. */
  readonly messages: readonly Message[];
  /** The scan, absolute, whether it is there or not. */
  readonly file: string;
}

/** Files above this are not read, bytes. */
const mostBytes = 64 * 2 ** 20;
/** Scans whose outcome is kept: a few wearers are tried in turn. */
const scansKept = 6;

type Outcome = ScannedWearer | { readonly messages: readonly Message[] };

/** What came of the latest scans, by their files' content and what was measured: to place one takes seconds. */
const known = new LatestKept<Outcome>(scansKept);

/**
 * Reads the scan that a wearer's file names (STL or OBJ, at most 64 MB), and makes it the wearer's head. A scan that
 * did not change, of a wearer whose measures did not, is not placed again.
 * @param file the wearer's
 */
export function readWearerScan(
  wearer: Wearer,
  request: ScanRequest,
  file: string,
  texts?: OpenTexts,
): WearerScan {
  const scan = resolve(dirname(file), request.file);
  const outcome = outcomeOf(wearer, request, scan);
  const messages = outcome.messages.map((message) => placedIn(message, file, scan, texts));
  return { ...("wearer" in outcome && { wearer: outcome.wearer }), messages, file: scan };
}

/** The scan that a wearer's file names, absolute, as far as the file can be read. */
export function scanNamedIn(file: string, texts?: OpenTexts): string | undefined {
  try {
    const text = sourceText(file, texts).replace(/^\uFEFF/, "");
    const { root } = parseJsonText(text, new TextPlaces(file, text));
    const name = root && getNodeValue(root)?.scan?.file;
    return typeof name === "string" && name !== "" ? resolve(dirname(file), name) : undefined;
  } catch {
    return undefined;
  }
}

function outcomeOf(wearer: Wearer, request: ScanRequest, scan: string): Outcome {
  try {
    const { size, mtimeMs } = checkedFile(request.file, scan);
    const { measurements, estimated, measuringErrors, ...rest } = wearer;
    const { hairThickness, ...measures } = measurements;
    const key = JSON.stringify([scan, size, mtimeMs, request, measures, estimated, measuringErrors]);
    const outcome = known.get(key, () => {
      try {
        return wearerOfScan(readMesh(request.file, scan), wearer, request);
      } catch (error) {
        if (!(error instanceof MessageError)) throw error;
        return { messages: error.messages };
      }
    });
    if (!("wearer" in outcome)) return outcome;
    // Hair, ease, name and limits are those of now.
    const hair = hairThickness === undefined ? {} : { hairThickness };
    const now = { ...outcome.wearer, ...rest, measurements: { ...outcome.wearer.measurements, ...hair } };
    return { ...outcome, wearer: now };
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    return { messages: error.messages };
  }
}

/** Size and time of a scan's file. @throws MessageError where it is not there, no file, or too large */
function checkedFile(name: string, scan: string): { readonly size: number; readonly mtimeMs: number } {
  try {
    const stats = statSync(scan);
    if (!stats.isFile()) {
      throw unreadable("file-unreadable", `the scan ${name} is no file`, "name an STL or OBJ file");
    }
    if (stats.size > mostBytes) {
      throw unreadable(
        "mesh-too-large",
        `the scan ${name} has ${(stats.size / 2 ** 20).toFixed(0)} MB, more than ${mostBytes / 2 ** 20} MB`,
        "export it coarser: 100,000 to 300,000 triangles hold all of a head that matters here",
      );
    }
    return stats;
  } catch (error) {
    if (error instanceof MessageError) throw error;
    throw notRead(name, scan, error as NodeJS.ErrnoException);
  }
}

function readMesh(name: string, scan: string): TriangleMesh {
  let bytes: Uint8Array;
  try {
    bytes = readFileSync(scan);
  } catch (error) {
    throw notRead(name, scan, error as NodeJS.ErrnoException);
  }
  return readMeshBytes(bytes, scan);
}

function notRead(name: string, scan: string, error: NodeJS.ErrnoException): MessageError {
  if (error.code !== "ENOENT" && error.code !== "ENOTDIR") {
    return unreadable("file-unreadable", `the scan ${name} cannot be read: ${error.message}`);
  }
  let names: string[];
  try {
    names = readdirSync(dirname(scan)).filter((each) => /\.(stl|obj)$/i.test(each));
  } catch {
    return unreadable(
      "file-not-found",
      `the scan ${name} does not exist`,
      `there is no folder ${dirname(scan)}`,
    );
  }
  const near = nearestName(basename(scan), names);
  const suggestion =
    near !== undefined
      ? `did you mean "${near}"?`
      : names.length > 0
        ? `the folder has ${names.sort().slice(0, 8).join(", ")}`
        : "name an STL or OBJ file, relative to the wearer's file";
  return unreadable("file-not-found", `the scan ${name} does not exist`, suggestion);
}

const unreadable = (id: string, text: string, suggestion?: string): MessageError =>
  new MessageError([{ id, severity: "error", field: "scan.file", text, ...(suggestion && { suggestion }) }]);

/** A message at its field of the wearer's file; what is wrong within the scan's own text is told beside it. */
function placedIn(message: Message, file: string, scan: string, texts?: OpenTexts): Message {
  const { file: own, line, column, length, ...rest } = message;
  const field = message.field ?? "scan.file";
  const within =
    own === scan && line !== undefined ? [{ text: "in the scan", file: own, line, column: column ?? 1 }] : [];
  const notes = [...(message.notes ?? []), ...within];
  return { ...rest, field, ...placeIn(file, field, texts), ...(notes.length > 0 && { notes }) };
}

function placeIn(file: string, field: string, texts?: OpenTexts): Place | { readonly file: string } {
  try {
    const text = sourceText(file, texts).replace(/^\uFEFF/, "");
    const places = new TextPlaces(file, text);
    const { root } = parseJsonText(text, places);
    return root ? placeOfField(root, field, false, places) : { file };
  } catch {
    return { file };
  }
}
