import type { Vec3 } from "../../geometry/vector";

/** Support over a grid of square cells: upright runs of material, each from `bottom` to `top` over one cell. */
export interface SupportRuns {
  readonly count: number;
  /** Side of a cell, mm. */
  readonly cell: number;
  /** Corner of cell (0, 0) in the plate's frame, mm, and cells along x and y. */
  readonly origin: readonly [x: number, y: number];
  readonly columns: number;
  readonly rows: number;
  /** Cell of each run. */
  readonly column: Int32Array;
  readonly row: Int32Array;
  /** mm over the plate; `top` lies below what is held up by the support gap. */
  readonly bottom: Float32Array;
  readonly top: Float32Array;
  /** Index of the part that is held up, −1 where it is nobody's (what the head left). */
  readonly part: Int32Array;
  /** What it stands on: the plate, or the piece. */
  readonly onPlate: Uint8Array;
  /** Cosine of the angle between the vertical and the normal of the surface held up there. */
  readonly steepness: Float32Array;
  /** Cosine of the angle between the vertical and the normal of the surface that it stands on; 0 on the plate. */
  readonly landing: Float32Array;
  /** Index among `columns` of the support: what hangs together. */
  readonly group: Int32Array;
}

/** A support that hangs together. Places are in the plate's frame. */
export interface SupportColumn {
  /** Indices of the parts that it holds up, the one with the most contact first. */
  readonly parts: readonly number[];
  /** mm over the plate. */
  readonly bottom: number;
  readonly top: number;
  /** Envelope, mm³. */
  readonly volume: number;
  /** Least width of the level at which what stands above is tallest for its width, mm. */
  readonly width: number;
  /** Area on which it stands, on the plate and on the piece, mm². */
  readonly footArea: number;
  /** Height of what stands above that level by the width. */
  readonly slenderness: number;
  readonly onPlate: boolean;
  /** Middle of what it holds up. */
  readonly at: Vec3;
  /** Why it may fail; absent: it holds. */
  readonly risk?: "peels" | "topples";
}

/** What is to be held up while a piece is printed, and by what. */
export interface Support {
  readonly runs: SupportRuns;
  readonly columns: readonly SupportColumn[];
  /** Envelope, mm³; what is printed of it is the support share. */
  readonly volume: number;
  /** Surface of the piece that supports hold up, and that they stand on, mm²: to be cleaned and painted. */
  readonly contactArea: number;
  readonly landingArea: number;
  /** By the part that is held up (−1: what the head left), the greatest volume first. */
  readonly byPart: readonly {
    readonly part: number;
    readonly volume: number;
    readonly contactArea: number;
    readonly columns: number;
  }[];
}

/** Support as layers print it: mm² and number of separate places, a layer each. */
export interface SupportLayers {
  readonly support: Float64Array;
  readonly contact: Float64Array;
  readonly places: Float64Array;
}
