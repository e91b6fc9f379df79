import type { Plate, Printer } from "../checks/printer";
import type { DataReading } from "./dataReading";
import printerSchema from "./printer.schema.json";
import { schemaCheck } from "./schemaMessages";

/** Stands in where a design names no printer: a common size of desktop printer. */
export const defaultPrinter: Printer = {
  name: "desktop printer, 220 × 220 × 250",
  plate: { shape: "rectangular", width: 220, depth: 220 },
  height: 250,
  nozzle: 0.4,
  filamentDiameter: 1.75,
};

const check = schemaCheck(printerSchema);

/** A parsed `NAME.printer.json` as a printer, or messages that name the wrong fields. */
export function printerFromDocument(document: unknown): DataReading<Printer> {
  const messages = check(document);
  if (messages.length > 0) return { messages };
  const { nozzle, filamentDiameter } = defaultPrinter;
  const given = document as Pick<Printer, "name" | "height"> & { plate: Plate } & Partial<Printer>;
  return {
    value: {
      name: given.name,
      plate: given.plate,
      height: given.height,
      nozzle: given.nozzle ?? nozzle,
      filamentDiameter: given.filamentDiameter ?? filamentDiameter,
    },
    messages,
  };
}
