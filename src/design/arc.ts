import { number } from "./check";

/** A place on the head as a length along its surface, mm, where an angle would grow and shrink with the head. */
export class Arc {
  /** mm */
  readonly length: number;

  constructor(length: number) {
    this.length = number(length, "length of an arc");
  }
}

/**
 * A length along the head, mm, in place of an angle: as azimuth along the girth from the middle of the brow to the
 * wearer's right (negative: left), as elevation up from the girth. An angle keeps its share of every head, an arc its
 * millimetres.
 * @example onHead({ azimuth: arc(60), elevation: arc(45), lift: 5 })
 */
export const arc = (length: number): Arc => new Arc(length);
