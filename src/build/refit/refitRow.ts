import type { CautionInput } from "../../checks/cautions";
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
  /** Whether it lies round the head without entering it or being far too loose: no finding on its gap is an error. */
  readonly fits?: boolean;
  /** Whether and how it goes on: "from above" …, or what keeps it off. */
  readonly wayOn?: { readonly passes: boolean; readonly summary: string };
  /** mm of girth to spare; absent where no ring of the piece closes round the head. */
  readonly girthPlay?: number;
  /** mm of girth that the ease asks for. */
  readonly girthEase?: number;
  /** Printed, g. */
  readonly mass?: number;
  /** mm */
  readonly box?: { readonly width: number; readonly depth: number; readonly height: number };
  /** `pieces`: where it was asked to be cut, into how many that all fit the plate. */
  readonly plate?: {
    readonly printer: string;
    readonly fits: boolean;
    readonly summary: string;
    readonly pieces?: number;
  };
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
  /** What the cautions beside it depend on (`checks/cautions.ts`). */
  readonly cautioned?: CautionInput;
  /** It was good already and not made again. */
  readonly kept: boolean;
}
