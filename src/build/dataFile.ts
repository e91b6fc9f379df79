import { readdirSync } from "node:fs";
import { basename, dirname } from "node:path";
import { getNodeValue } from "jsonc-parser";
import type { Material } from "../checks/material";
import type { Printer } from "../checks/printer";
import { type Wearer, wearerFromDocument } from "../head/wearer";
import type { Message, Place } from "../message";
import { editDistance, nearestName } from "../nearestName";
import { type LimitValues, limitProblems } from "../wearLimits";
import { type CastFile, castFromDocument } from "./castFile";
import type { DataReading } from "./dataReading";
import { parseJsonText, placeOfField, TextPlaces } from "./jsonText";
import { materialFromDocument } from "./materialFile";
import { printerFromDocument } from "./printerFile";
import { type PrintFile, printFromDocument } from "./printFile";
import { type OpenTexts, sourceText } from "./sourceTexts";

interface DataKinds {
  readonly wearer: Wearer;
  readonly printer: Printer;
  readonly material: Material;
  readonly print: PrintFile;
  readonly limits: LimitValues;
  readonly cast: CastFile;
}

export type DataKind = keyof DataKinds;

const readers: { readonly [K in DataKind]: (document: unknown) => DataReading<DataKinds[K]> } = {
  wearer: (document) => {
    const { wearer, messages } = wearerFromDocument(document);
    return { ...(wearer && { value: wearer }), messages };
  },
  printer: printerFromDocument,
  material: materialFromDocument,
  print: printFromDocument,
  limits: limitsFromDocument,
  cast: castFromDocument,
};

/** What a file of each kind holds, and whose it is. */
const dataWords: { readonly [K in DataKind]: string } = {
  wearer: "a wearer",
  printer: "a printer",
  material: "a material",
  print: "print settings",
  limits: "limits",
  cast: "a cast",
};
const dataOwners: { readonly [K in DataKind]: string } = {
  wearer: "wearer's",
  printer: "printer's",
  material: "material's",
  print: "print settings'",
  limits: "limits'",
  cast: "cast's",
};

function limitsFromDocument(document: unknown): DataReading<LimitValues> {
  const { $schema: _, ...values } = document as Record<string, unknown>;
  const messages = limitProblems(values).map(
    ({ id, name, text, suggestion }): Message => ({ id, severity: "error", field: name, text, suggestion }),
  );
  return messages.length > 0 ? { messages } : { value: values as LimitValues, messages };
}

/**
 * Reads the file of a wearer, a printer, a material, print settings, limits or a cast. What is wrong comes back as messages with file, line and
 * column: of the field in question, or of `askedBy`, the place in the design that names the file, when the
 * file is not there.
 */
export function readDataFile<K extends DataKind>(
  file: string,
  kind: K,
  askedBy?: Place,
  texts?: OpenTexts,
): DataReading<DataKinds[K]> {
  let text: string;
  try {
    text = sourceText(file, texts).replace(/^\uFEFF/, "");
  } catch (error) {
    return { messages: [unreadable(file, kind, askedBy, error as NodeJS.ErrnoException)] };
  }
  return readDataText(text, file, kind);
}

/** As `readDataFile`, for a text that is at hand, such as one that is being edited. */
export function readDataText<K extends DataKind>(
  text: string,
  file: string,
  kind: K,
): DataReading<DataKinds[K]> {
  const places = new TextPlaces(file, text);
  const { root, messages } = parseJsonText(text, places);
  if (!root) return { messages };
  if (root.type !== "object") {
    const wrong: Message = {
      id: "wrong-type",
      severity: "error",
      text: `the file of ${dataWords[kind]} holds one group of fields, not ${root.type === "array" ? "a list" : `a ${root.type}`}`,
      suggestion: "begin with { and end with }",
      ...places.at(root.offset, root.length),
    };
    return { messages: [wrong] };
  }
  const reading = readers[kind](getNodeValue(root));
  const located = reading.messages.map((message) => ({
    ...message,
    ...placeOfField(
      root,
      message.field ?? "",
      message.id === "unknown-key" || message.id === "unknown-limit",
      places,
    ),
  }));
  return { ...reading, messages: located };
}

function unreadable(
  file: string,
  kind: DataKind,
  askedBy: Place | undefined,
  error: NodeJS.ErrnoException,
): Message {
  const place = askedBy ?? { file };
  if (error.code !== "ENOENT" && error.code !== "ENOTDIR") {
    const why = error.code === "EISDIR" ? "it is a folder" : error.message;
    return {
      id: "file-unreadable",
      severity: "error",
      text: `the ${dataOwners[kind]} file ${file} cannot be read: ${why}`,
      ...place,
    };
  }
  const names = namesIn(dirname(file));
  const suggestion = names ? suggestionFrom(file, kind, names) : `there is no folder ${dirname(file)}`;
  return {
    id: "file-not-found",
    severity: "error",
    text: `the ${dataOwners[kind]} file ${file} does not exist`,
    ...(suggestion && { suggestion }),
    ...place,
  };
}

function namesIn(folder: string): string[] | undefined {
  try {
    return readdirSync(folder).sort();
  } catch {
    return undefined;
  }
}

function suggestionFrom(file: string, kind: DataKind, names: readonly string[]): string | undefined {
  const ending = `.${kind}.json`;
  const ofKind = names.filter((name) => name.endsWith(ending));
  // The ending is the same for all, so only what stands before it is compared.
  const stem = (name: string) => name.replace(/(?:\.\w+)?\.json$/, "");
  const near = nearestName(stem(basename(file)), ofKind.map(stem));
  if (near !== undefined) return `did you mean "${near}${ending}"?`;
  const other = names.find((name) => editDistance(basename(file), name) <= 2);
  if (other !== undefined) return `did you mean "${other}"?`;
  return ofKind.length > 0 ? `the folder has ${ofKind.slice(0, 8).join(", ")}` : undefined;
}
