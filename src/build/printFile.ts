import type { PrintChoice } from "../design/part";
import type { Message } from "../message";
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
/** Apart from the rest, so that what is wrong with it is told of its own fields. */
const checkOrientation = schemaCheck(
  printSchema.properties.orientation.oneOf.find(({ type }) => type === "object")!,
);

/** A parsed `NAME.print.json` as print settings, or messages that name the wrong fields. */
export function printFromDocument(document: unknown): DataReading<PrintFile> {
  const messages = problemsOf(document as Readonly<Record<string, unknown>>);
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

function problemsOf(document: Readonly<Record<string, unknown>>): readonly Message[] {
  const { orientation } = document;
  if (typeof orientation !== "object" || orientation === null) return check(document);
  const own = checkOrientation(orientation).map((message) => ({
    ...message,
    field: message.field ? `orientation.${message.field}` : "orientation",
  }));
  return [...check({ ...document, orientation: "best" }), ...own];
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
