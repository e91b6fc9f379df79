import type { Printer, PrintSpeeds } from "../checks/printer";
import type { DataReading } from "./dataReading";
import printerSchema from "./printer.schema.json";
import { schemaCheck } from "./schemaMessages";

/**
 * Stands in where a design names no printer: a common size of desktop printer. Speeds, acceleration and times: common
 * practice, no source; an ordinary hot end melts 10 to 15 mm³/s: from memory.
 */
export const defaultPrinter: Printer = {
  name: "desktop printer, 220 × 220 × 250",
  plate: { shape: "rectangular", width: 220, depth: 220 },
  height: 250,
  nozzle: 0.4,
  filamentDiameter: 1.75,
  speeds: {
    outerShell: 40,
    innerShell: 60,
    solidInfill: 60,
    sparseInfill: 80,
    support: 60,
    contact: 40,
    firstLayer: 20,
    travel: 130,
  },
  acceleration: 1500,
  cornerSpeed: 8,
  flowLimit: 11,
  layerChangeTime: 1,
  startTime: 300,
};

type PrinterDocument = Pick<Printer, "name" | "plate" | "height"> &
  Partial<Omit<Printer, "speeds">> & { speeds?: Partial<PrintSpeeds>; $schema?: string; notes?: string };

const check = schemaCheck(printerSchema);

/** A parsed `NAME.printer.json` as a printer, or messages that name the wrong fields. */
export function printerFromDocument(document: unknown): DataReading<Printer> {
  const messages = check(document);
  if (messages.length > 0) return { messages };
  const { $schema: _, notes: __, ...given } = document as PrinterDocument;
  return {
    value: { ...defaultPrinter, ...given, speeds: { ...defaultPrinter.speeds, ...given.speeds } },
    messages,
  };
}
