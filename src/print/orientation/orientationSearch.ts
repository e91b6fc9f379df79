import type { Orientation } from "../../orientation";
import type { CostReferences } from "./orientationCost";
import type { OrientationFigures } from "./quickFigures";

/** What an orientation is best at. */
export const orientationNames = [
  "as designed",
  "as given",
  "best of all",
  "fewest hours",
  "least support",
  "lowest",
  "strongest",
] as const;
export type OrientationName = (typeof orientationNames)[number];

/** One way up that was looked at closely. */
export interface FoundOrientation {
  /** What it is best at; one at least. */
  readonly names: readonly OrientationName[];
  readonly orientation: Orientation;
  readonly figures: OrientationFigures;
  /** Weighted cost: see `orientationCost`. */
  readonly cost: number;
  /** The least that is left of the build volume's measures, mm; negative where the piece is too large. */
  readonly room: number;
  readonly fits: boolean;
}

/** What a search over all directions found. */
export interface OrientationSearch {
  /** Name of the printer that it is for. */
  readonly printer: string;
  /** As designed first, then as given, the best next, then those that are best at one thing; none within 5° of another of like cost. */
  readonly found: readonly FoundOrientation[];
  readonly asDesigned: FoundOrientation;
  /** That of the design, where it gives one. */
  readonly given?: FoundOrientation;
  readonly best: FoundOrientation;
  /** Directions that were compared, and those of them that were looked at cell by cell. */
  readonly compared: number;
  readonly lookedAt: number;
  readonly references: CostReferences;
}
