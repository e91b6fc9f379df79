/** A material-extrusion printer, as far as a headpiece must know it. Lengths in mm. */
export interface Printer {
  readonly name: string;
  readonly plate: Plate;
  /** Build height over the plate. */
  readonly height: number;
  /** Bore of the nozzle. */
  readonly nozzle: number;
  readonly filamentDiameter: number;
  /** Speed along each kind of path, mm/s. */
  readonly speeds: PrintSpeeds;
  /** mm/s² */
  readonly acceleration: number;
  /** Speed at which a sharp corner is taken, mm/s. */
  readonly cornerSpeed: number;
  /** The most that the hot end melts, mm³/s. */
  readonly flowLimit: number;
  /** What a change to the next layer takes, s. */
  readonly layerChangeTime: number;
  /** What heating and levelling take before the first layer, s. */
  readonly startTime: number;
  /** Price of an hour of printing, in the workshop's currency. */
  readonly pricePerHour?: number;
}

/** Speed along each kind of path, mm/s. */
export interface PrintSpeeds {
  readonly outerShell: number;
  readonly innerShell: number;
  readonly solidInfill: number;
  readonly sparseInfill: number;
  readonly support: number;
  readonly contact: number;
  /** Everything on the first layer, and the brim. */
  readonly firstLayer: number;
  /** Between paths, nothing printed. */
  readonly travel: number;
}

/** The build surface, mm. */
export type Plate =
  | { readonly shape: "rectangular"; readonly width: number; readonly depth: number }
  | { readonly shape: "round"; readonly diameter: number };
