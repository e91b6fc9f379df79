/** What of a column of support decides whether it holds. */
export interface ColumnShape {
  /** mm, from the foot to what it holds up. */
  readonly height: number;
  /** Height over least width. */
  readonly slenderness: number;
  /** Resistance of its foot to being tipped, mm³ (section modulus). */
  readonly footModulus: number;
}

/** When a column of support counts as one that may fail. */
export interface ColumnLimits {
  /** Up to this height none fails, mm. */
  readonly height: number;
  /** A column taller than this many times its least width sways and is knocked over. */
  readonly slenderness: number;
  /** Sideways push of the nozzle at the top, N. */
  readonly push: number;
  /** What the foot's edge bears before it comes off what it stands on, MPa. */
  readonly adhesion: number;
}

/** Source of the limits below. */
export const columnLimitSource = "common practice, no source";

/** Common practice, no source. */
export const defaultColumnLimits: ColumnLimits = { height: 20, slenderness: 10, push: 0.5, adhesion: 0.5 };

/**
 * Why a column of support may fail; undefined where it holds. A column that is tall and slender *peels* off where the
 * push of the nozzle at its top, as a moment on its foot (push × height over the section modulus: Euler–Bernoulli), is
 * more than the foot bears, and else *topples*: a long thin wall. A taller or thinner column is never the safer one.
 * @throws RangeError when a number is negative or none.
 */
export function columnRisk(
  { height, slenderness, footModulus }: ColumnShape,
  limits: ColumnLimits = defaultColumnLimits,
): "peels" | "topples" | undefined {
  for (const [name, value] of Object.entries({ height, slenderness, footModulus })) {
    if (!(value >= 0)) throw new RangeError(`${name} of a column is ${value}: it must be 0 or more`);
  }
  if (height <= limits.height || slenderness <= limits.slenderness) return undefined;
  return limits.push * height > limits.adhesion * footModulus ? "peels" : "topples";
}
