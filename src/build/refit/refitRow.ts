import type { ReportChange } from "../../export/reportChanges";
import type { Message } from "../../message";

/** One design on one wearer, judged: a row of the refit table. Plain data, also kept as JSON. */
export interface RefitRow {
  /** Absolute paths. */
  readonly design: string;
  readonly wearer: string;
  readonly headpiece: string;
  readonly wearerName: string;
  /** `failed`: it came to no solid; the messages say why. */
  readonly verdict: "wear" | "adjust" | "dont" | "failed";
  /** It may be worn or adjusted, and fits the plate: its files are written. */
  readonly passes: boolean;
  /** The reasons of the verdict, a clause each. */
  readonly reasons: readonly string[];
  /** mm of girth to spare; absent where no ring of the piece closes round the head. */
  readonly girthPlay?: number;
  /** mm of girth that the ease asks for. */
  readonly girthEase?: number;
  /** Printed, g. */
  readonly mass?: number;
  /** mm */
  readonly box?: { readonly width: number; readonly depth: number; readonly height: number };
  readonly plate?: { readonly printer: string; readonly fits: boolean; readonly summary: string };
  /** Estimate of the print, h. */
  readonly hours?: number;
  /** Filament of the whole print, supports counted: m and g. */
  readonly filament?: { readonly metres: number; readonly grams: number; readonly material: string };
  /** Chance that it goes on and rests, 0 to 1, given what was measured of the wearer. */
  readonly chance?: number;
  /** Against the same design on its first wearer; absent on that row itself. */
  readonly changes?: readonly ReportChange[];
  /** A small picture of the piece on the head, a whole SVG document. */
  readonly picture?: string;
  readonly messages: readonly Message[];
  /** Files that were written, absolute. */
  readonly files: readonly string[];
  /** Files that it depends on, absolute. */
  readonly inputs: readonly string[];
  /** It was good already and not made again. */
  readonly kept: boolean;
}
