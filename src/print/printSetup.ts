import type { OrientationChoice, OrientationWeights } from "../orientation";
import type { PrintSettings } from "../printSettings";

/** All that is chosen about a print, besides printer and material. */
export interface PrintSetup {
  /** What the settings are called: the name of their file, or "the design's own". */
  readonly name: string;
  readonly settings: PrintSettings;
  readonly orientation: OrientationChoice;
  readonly weights: OrientationWeights;
}
