import type { TriangleMesh } from "../geometry/mesh";
import type { CleanedMesh } from "../geometry/meshCleaning";
import type { ScanMeasures } from "./scanMeasuring";
import type { ScalingMeasure } from "./scanRequest";

/** Distances between a scan and a head form above the girth, mm. */
export interface ScanResidual {
  readonly median: number;
  readonly p90: number;
}

/** A real head's mesh in the head frame, and how it came there. Plain data. */
export interface PlacedScan {
  /** In the head frame, mm; cleaned, facing outward; it may be open. */
  readonly mesh: TriangleMesh;
  /** From the scan's own coordinates to the head frame, 4 × 4, column by column. */
  readonly matrix: readonly number[];
  /** Whether the scan stood in the head frame already and was left there. */
  readonly asItWas: boolean;
  /** mm in one unit of the scan. */
  readonly scale: number;
  /** mm in one unit of the scan at which it would fit the head form best. */
  readonly fittedScale: number;
  /** The unit in words, for example "centimetres"; "no known unit" where it has a head's size in none. */
  readonly unit: string;
  /** The measure that it was scaled by; it keeps its own size where none is named. */
  readonly scaledBy?: ScalingMeasure;
  /** Between the placed scan and the head form. */
  readonly residual: ScanResidual;
  /** The same with the scan brought to the head form's size: how much the shapes differ. */
  readonly shapeResidual: ScanResidual;
  readonly measured: ScanMeasures;
  /** What was dropped and turned before. */
  readonly cleaning: Omit<CleanedMesh, "mesh">;
  /** What the maker should know or look at, a sentence each. */
  readonly doubts: readonly string[];
  /** Those of them that are about neither its size nor its holes. */
  readonly shapeDoubts: readonly string[];
}
