import type { PrintChoice } from "../design/part";
import { defaultOrientationWeights, type Orientation, type OrientationWeights } from "../orientation";
import type { PrintSetup } from "../print/printSetup";
import { defaultPrintSettings, type PrintSettings } from "../printSettings";
import type { DataReading } from "./dataReading";
import printSchema from "./print.schema.json";
import { schemaCheck } from "./schemaMessages";

/** A file of print settings: what it says, the rest is as usual. */
export interface PrintFile extends Omit<PrintChoice, "file"> {
  readonly name: string;
}

type PrintDocument = Partial<PrintSettings> & {
  readonly $schema?: string;
  readonly notes?: string;
  readonly name: string;
  readonly orientation?: "as designed" | "best" | (Pick<Orientation, "tilt"> & Partial<Orientation>);
  readonly orientationWeights?: Partial<OrientationWeights>;
};

const check = schemaCheck(printSchema);

/** A parsed `NAME.print.json` as print settings, or messages that name the wrong fields. */
export function printFromDocument(document: unknown): DataReading<PrintFile> {
  const messages = check(document);
  if (messages.length > 0) return { messages };
  const {
    $schema: _,
    notes: __,
    name,
    orientation,
    orientationWeights,
    ...settings
  } = document as PrintDocument;
  return {
    value: {
      name,
      settings,
      ...(orientation !== undefined && {
        orientation: typeof orientation === "string" ? orientation : { towards: 0, turn: 0, ...orientation },
      }),
      ...(orientationWeights && { weights: orientationWeights }),
    },
    messages,
  };
}

/** The print as it is set up: what is usual, then the file, then the design. */
export function printSetupOf(choice: PrintChoice, file?: PrintFile): PrintSetup {
  const own = Object.keys(choice.settings ?? {}).length > 0;
  const name = file
    ? own
      ? `${file.name}, changed by the design`
      : file.name
    : own
      ? "the design's own"
      : "as usual";
  return {
    name,
    settings: { ...defaultPrintSettings, ...file?.settings, ...choice.settings },
    orientation: choice.orientation ?? file?.orientation ?? "as designed",
    weights: { ...defaultOrientationWeights, ...file?.weights, ...choice.weights },
  };
}
