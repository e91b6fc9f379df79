/** Measures of a head, mm; definitions after ISO 7250-1 and ISO 8559-1. */
export interface Measurements {
  /** Head circumference over the brow and the widest back of the head. */
  readonly girth: number;
  /** From the brow (glabella) to the back (opisthocranion). */
  readonly length: number;
  /** Widest, above the ears. */
  readonly breadth: number;
  /** From the tragion to the top of the head, upright. */
  readonly crownHeight: number;
  /** From tragion to tragion over the crown, by tape. */
  readonly bitragionArc?: number;
  readonly earLength?: number;
  readonly earProtrusion?: number;
  readonly interpupillaryDistance?: number;
  readonly neckGirth?: number;
  /** Room that the hair takes where hair grows. */
  readonly hairThickness?: number;
}

export type MeasureField = keyof Measurements;

/** What somebody measured, mm: the girth, and whatever else. */
export type GivenMeasurements = Pick<Measurements, "girth"> & Partial<Measurements>;

/** A measure that was not taken, and what it is taken to be, mm. */
export interface Estimate {
  readonly field: MeasureField;
  readonly value: number;
  readonly standardError: number;
  /** The measures it was foretold from. */
  readonly from: readonly MeasureField[];
}

/** Hair thickness where none is given, mm (common practice, no source). */
export const USUAL_HAIR_THICKNESS = 3;
