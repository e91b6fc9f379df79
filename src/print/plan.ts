import type { Material } from "../checks/material";
import type { Printer } from "../checks/printer";
import type { Part, Prop } from "../design/part";
import type { PartMesh } from "../geometry/mesh";
import type { PrintSetup } from "./printSetup";

/** What is printed, on what, of what and how. */
export interface PrintJob {
  /** The finished solid, head frame. */
  readonly mesh: PartMesh;
  /** The design's parts: `partOfTriangle` of the mesh counts these. */
  readonly parts: readonly Part[];
  readonly props: readonly Prop[];
  readonly printer: Printer;
  readonly material: Material;
  readonly setup: PrintSetup;
}

/** What a print takes, all in all. */
export interface PrintTotals {
  /** Everything that is printed, supports and brim too, g and m of filament. */
  readonly grams: number;
  readonly metres: number;
  /** Of it the piece alone, g. */
  readonly pieceGrams: number;
  readonly hours: number;
  /** In the workshop's currency, where prices are known. */
  readonly price?: number;
  /** Full spools that it takes. */
  readonly spools: number;
}
