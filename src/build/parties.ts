import { dirname, resolve } from "node:path";
import type { Material } from "../checks/material";
import type { Printer } from "../checks/printer";
import type { DesignHeader } from "../design/part";
import { USUAL_HAIR_THICKNESS } from "../head/measurements";
import { MEAN_GIRTH } from "../head/population";
import { USUAL_GIRTH_EASE, type Wearer, wearerFromDocument } from "../head/wearer";
import { type Message, MessageError, type Place } from "../message";
import type { PrintSetup } from "../print/printSetup";
import type { LimitValues } from "../wearLimits";
import { readDataFile } from "./dataFile";
import { defaultMaterial } from "./materialFile";
import { defaultPrinter } from "./printerFile";
import { printSetupOf } from "./printFile";
import { knownText, type OpenTexts } from "./sourceTexts";
import { readWearerScan } from "./wearerScan";
import { readWorkspaceLimits } from "./workspaceLimits";

/** Who a piece is for, and what it is made on and of. */
export interface Parties {
  readonly wearer: Wearer;
  readonly printer: Printer;
  readonly material: Material;
  /** How it is printed. */
  readonly print: PrintSetup;
  /** Limits of fit and wear that the design's folder, or one above it, sets. */
  readonly workspaceLimits?: LimitValues;
  /** Files that were read, absolute. */
  readonly files: readonly string[];
  /** Warnings about what was read. */
  readonly messages: readonly Message[];
}

/** Files that stand in for those that the design names; relative to the working folder. */
export interface PartyFiles {
  readonly wearer?: string;
  readonly printer?: string;
  readonly material?: string;
  readonly print?: string;
}

type PartyKind = keyof PartyFiles;

/**
 * Reads the wearer, printer and material of a design: from the files given, else from those that the design names,
 * else what is usual. Throws a `MessageError` where a file is missing or wrong.
 */
export function readParties(
  design: string,
  header: DesignHeader,
  given: PartyFiles,
  texts?: OpenTexts,
): Parties {
  const messages: Message[] = [];
  const files = partyFiles(design, header, given);
  const read = <K extends PartyKind>(kind: K) => {
    const file = files[kind];
    if (!file) return undefined;
    const reading = readDataFile(file, kind, given[kind] ? undefined : namedAt(header, kind, texts), texts);
    messages.push(...reading.messages);
    return reading.value;
  };
  const own = read("wearer");
  const scan = own?.scan && files.wearer ? readWearerScan(own, own.scan, files.wearer, texts) : undefined;
  if (scan) messages.push(...scan.messages);
  const wearer = scan ? scan.wearer : own;
  const printer = read("printer");
  const material = read("material");
  const print = read("print");
  const limits = readWorkspaceLimits(design, texts);
  messages.push(...limits.messages);
  if (messages.some(({ severity }) => severity === "error")) throw new MessageError(messages);
  if (!wearer) messages.push(noWearer(header));
  return {
    wearer: wearer ?? meanWearer(),
    printer: printer ?? defaultPrinter,
    material: material ?? defaultMaterial,
    print: printSetupOf(header.print, print),
    ...(limits.value && { workspaceLimits: limits.value }),
    files: [...Object.values(files), ...(scan ? [scan.file] : [])],
    messages,
  };
}

/** The print as another file of print settings sets it up. @throws MessageError where the file is wrong */
export function printSetupFrom(file: string, { print }: Pick<DesignHeader, "print">): PrintSetup {
  const { value, messages } = readDataFile(file, "print");
  if (!value) throw new MessageError(messages);
  return printSetupOf(print, value);
}

/** The file that the design names for a kind. */
const fileNamed = (header: DesignHeader, kind: PartyKind): string | undefined =>
  kind === "print" ? header.print.file : header[kind];

/** Where the design names a file: its name in quotes, looked for from the headpiece on; else the headpiece. */
function namedAt(header: DesignHeader, kind: PartyKind, texts?: OpenTexts): Place | undefined {
  const { origin } = header;
  const name = fileNamed(header, kind);
  const text = origin && knownText(origin.file, texts);
  if (!origin || text === undefined || name === undefined) return origin;
  const lines = text.split(/\r?\n/);
  for (let line = origin.line; line <= lines.length; line++) {
    for (const quote of ['"', "'", "`"]) {
      const quoted = quote + name + quote;
      const at = lines[line - 1].indexOf(quoted, line === origin.line ? origin.column - 1 : 0);
      if (at >= 0) return { file: origin.file, line, column: at + 1, length: quoted.length };
    }
  }
  return origin;
}

/** The files that are read for a design, absolute, whether they are there or not. */
export function partyFiles(
  design: string,
  header: DesignHeader,
  given: PartyFiles,
): Partial<Record<PartyKind, string>> {
  const kinds: readonly PartyKind[] = ["wearer", "printer", "material", "print"];
  return Object.fromEntries(
    kinds.flatMap((kind) => {
      const own = fileNamed(header, kind);
      const file = given[kind] ? resolve(given[kind]) : own && resolve(dirname(design), own);
      return file ? [[kind, file]] : [];
    }),
  );
}

const noWearer = (header: DesignHeader): Message => ({
  id: "no-wearer",
  severity: "warning",
  text: `"${header.name}" names no wearer: it is built on a head of mean size (girth ${MEAN_GIRTH} mm)`,
  suggestion: 'write wearer: "name.wearer.json" in the headpiece, or give --wearer',
  ...header.origin,
});

function meanWearer(): Wearer {
  const { wearer } = wearerFromDocument({
    name: "mean head",
    units: "mm",
    girth: MEAN_GIRTH,
    hairThickness: USUAL_HAIR_THICKNESS,
    ease: { girth: USUAL_GIRTH_EASE },
  });
  if (!wearer) throw new Error("the mean head is not a wearer");
  return wearer;
}
