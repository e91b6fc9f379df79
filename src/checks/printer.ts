/** A material-extrusion printer, as far as a headpiece must know it. Everything in mm. */
export interface Printer {
  readonly name: string;
  readonly plate: Plate;
  /** Build height over the plate. */
  readonly height: number;
  /** Bore of the nozzle. */
  readonly nozzle: number;
  readonly filamentDiameter: number;
}

/** The build surface, mm. */
export type Plate =
  | { readonly shape: "rectangular"; readonly width: number; readonly depth: number }
  | { readonly shape: "round"; readonly diameter: number };
