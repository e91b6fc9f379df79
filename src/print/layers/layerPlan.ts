/** What a layer is printed of. */
export const pathKinds = [
  "outerShell",
  "innerShell",
  "solidInfill",
  "sparseInfill",
  "support",
  "contact",
  "brim",
] as const;
export type PathKind = (typeof pathKinds)[number];

/** What takes time: printing, by kind, and the rest. */
export const timeKinds = [...pathKinds, "travel", "layerChange", "waiting"] as const;
export type TimeKind = (typeof timeKinds)[number];

/** A piece cut into layers as they are printed. Arrays have one number a layer, from the plate up. */
export interface LayerPlan {
  readonly count: number;
  /** mm; layer i lies from i to i + 1 times this over the plate. */
  readonly layerHeight: number;
  /** Area of the piece's true section in the middle of the layer, mm², and length of its outlines, mm. */
  readonly area: Float64Array;
  readonly perimeter: Float64Array;
  /** Length of printed path, mm. */
  readonly lengths: Readonly<Record<PathKind, Float64Array>>;
  /** Way between paths, mm. */
  readonly travel: Float64Array;
  /** Time, s. */
  readonly seconds: Readonly<Record<TimeKind, Float64Array>>;
  /** Material of the piece itself and of what is thrown away (support, contact layers, brim), mm³. */
  readonly pieceVolume: Float64Array;
  readonly wasteVolume: Float64Array;
}
