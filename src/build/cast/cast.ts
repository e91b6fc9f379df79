import type { Material } from "../../checks/material";
import type { Printer } from "../../checks/printer";
import type { Place } from "../../message";
import type { CastFile, CastPiece, CastPrinter } from "../castFile";

/** A cast with all the files that it names: read, or known to be there. Paths are absolute. */
export interface Cast extends Omit<CastFile, "pieces" | "printers" | "spools" | "understudies"> {
  readonly file: string;
  readonly pieces: readonly CastPiece[];
  readonly printers: readonly CastPrinterAtHand[];
  readonly stock: readonly CastStock[];
  /** All who wear something, then the understudies, each once. */
  readonly wearers: readonly CastWearer[];
  /** Files that were read, and the designs. */
  readonly inputs: readonly string[];
  /** Where a field stands in the cast's file, given as a dotted path. */
  readonly placeOf: (field: string) => Place;
}

export interface CastPrinterAtHand extends CastPrinter {
  readonly printer: Printer;
  /** What it is called here; no two alike. */
  readonly label: string;
}

/** One spool in stock. */
export interface CastStock {
  readonly file: string;
  readonly material: Material;
  readonly grams: number;
}

export interface CastWearer {
  readonly file: string;
  readonly name: string;
  /** mm */
  readonly girth: number;
}
