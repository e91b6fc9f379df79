import type { MeasureField } from "../../head/measurements";
import type { Finding } from "../finding";

/** *How sure is the fit, given how well her head is known?* */
export interface Sureness {
  /** Share of the drawn heads on which the piece goes on and rests as it should, 0 to 1. */
  readonly chance: number;
  /** Heads that were drawn; 0 where every measure that matters is exact. */
  readonly draws: number;
  /** Shares of the drawn heads on which it fails, by the way in which it fails. */
  readonly tooTight: number;
  readonly tooLoose: number;
  /** Measures that are estimated, or taken with a tolerance. */
  readonly unsure: readonly MeasureField[];
  /** The one more measure that would help most, with the chance that is expected once it is taken and the piece refitted. */
  readonly helps?: { readonly field: MeasureField; readonly chance: number };
  readonly findings: readonly Finding[];
}
