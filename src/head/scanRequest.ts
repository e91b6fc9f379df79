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

/** A measure of a scan beside what was given. */
export interface ScanComparison {
  readonly field: ScannedMeasure;
  /** What the scan measures as it was scaled, mm. */
  readonly onScan: number;
  /** What was given, mm; none where it was not measured. */
  readonly given?: number;
  /** Of the difference between the two, mm: the measuring errors of both. */
  readonly standardError?: number;
  /** Whether the scan was scaled by it. */
  readonly isScale: boolean;
  /** Whether the difference is more than shape and measuring leave room for. */
  readonly isDoubtful: boolean;
}

/** Measures that a scan gives. */
export const SCANNED_MEASURES = ["girth", "length", "breadth", "crownHeight"] as const;
export type ScannedMeasure = (typeof SCANNED_MEASURES)[number];

/** The head form of a scan: closed, in the head frame, mm. Plain data. */
export interface ScannedHead {
  /** Stands for the surface. */
  readonly key: string;
  readonly surface: RadialSurfaceData;
  /** What tape and calipers read off the scan as it was placed and scaled. */
  readonly measured: ScanMeasures;
  /** mm in one unit of the scan. */
  readonly scale: number;
  /** The unit that it is in, or looks to be in, in words; none where it has a head's size in no unit. */
  readonly unit?: string;
  /** The measure that it was scaled by; it keeps its own size where none is named. */
  readonly scaledBy?: ScalingMeasure;
  /** From the scan's own coordinates to the head frame, 4 × 4, column by column. */
  readonly matrix: readonly number[];
  /** Each measure against what was given. */
  readonly comparisons: readonly ScanComparison[];
  /** 95 % of the scan above the girth lies within this distance of the form, mm. */
  readonly within: number;
  /** Share of the form above the girth that the scan lacks and the mean head fills. */
  readonly filled: number;
}
