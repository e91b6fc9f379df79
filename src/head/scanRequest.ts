import type { Vec3 } from "../geometry/vector";
import type { RadialSurfaceData } from "./radialSurface";
import type { ScanMeasures } from "./scanMeasuring";

/** Measures that a scan can be scaled by. */
export const SCALING_MEASURES = ["girth", "length", "breadth"] as const;
export type ScalingMeasure = (typeof SCALING_MEASURES)[number];

/** Units that a scan can be in. */
export const SCAN_UNITS = ["mm", "cm", "in", "m"] as const;
export type ScanUnit = (typeof SCAN_UNITS)[number];

/** The three points that bring a scan into the head frame, in the scan's own coordinates. */
export interface ScanPoints {
  /** Between the eyebrows (glabella). */
  readonly brow: Vec3;
  /** The notches before the ears; the wearer's left and right. */
  readonly leftTragion: Vec3;
  readonly rightTragion: Vec3;
}

/** The scan that a wearer's file names, as it stands there. */
export interface ScanRequest {
  /** STL or OBJ, relative to the wearer's file. */
  readonly file: string;
  /** The unit of the scan; found by itself unless given. With one and no `scaledBy` the scan keeps its own size. */
  readonly unit?: ScanUnit;
  /** The measure that comes true; without one and without a unit the first of girth, length, breadth that is given. */
  readonly scaledBy?: ScalingMeasure;
  /** Found by itself unless given. */
  readonly points?: ScanPoints;
}

/** The head form of a scan: closed, in the head frame, mm. */
export interface ScannedHead {
  readonly surface: RadialSurfaceData;
  /** What tape and calipers read off the scan as it was placed and scaled. */
  readonly measured: ScanMeasures;
  /** mm in one unit of the scan. */
  readonly scale: number;
  /** 95 % of the scan above the girth lies within this distance of the form, mm. */
  readonly within: number;
}
