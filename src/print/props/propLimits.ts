import { defaultColumnLimits } from "../support/columnRisk";

/** What props are made by. Lengths in mm, angles in degrees. */
export interface PropLimits {
  /** Diameter of a neck, where the strut breaks off. */
  readonly neck: number;
  /** Length over which a neck stays as thin. */
  readonly neckLength: number;
  /** Least diameter of a strut below its neck. */
  readonly thickness: number;
  /** Least diameter of a foot. */
  readonly foot: number;
  /** A foot is at least this share of the height of its strut across, so that it does not topple. */
  readonly footShare: number;
  /** Room between a strut and the piece, but for the neck. */
  readonly clearance: number;
  /** How far a strut or a brace leans from the vertical at most. */
  readonly lean: number;
  /** What is held is nowhere farther from the rim of a neck: half of what plastic bridges. */
  readonly reach: number;
  /** Height of what stands above a level of a strut by its width there, at most; as for a column of support. */
  readonly slenderness: number;
  /** Struts nearer than this, seen from above, join into one or are braced to each other. */
  readonly joinReach: number;
  readonly braceReach: number;
  /** Struts that are higher than this are braced. */
  readonly bracedHeight: number;
}

/**
 * Bridges of 5 mm: from memory. A lean of 38° stays below the overhang of 45° that prints (Mazlan et al. 2020, JAITA)
 * with room for how a strut changes its section. The rest: common practice, no source.
 */
export const defaultPropLimits: PropLimits = {
  neck: 1.2,
  neckLength: 1,
  thickness: 2.4,
  foot: 10,
  footShare: 0.16,
  clearance: 2,
  lean: 38,
  reach: 2.5,
  slenderness: defaultColumnLimits.slenderness,
  joinReach: 60,
  braceReach: 40,
  bracedHeight: 60,
};

/** A prop narrows towards its neck by no more than this, mm of radius a mm of length. */
export const neckTaper = 0.25;
/**
 * Beside its neck a strut is nearer to the piece than the clearance: there it moves away from the surface by at least
 * this share of its length.
 */
export const leastDeparture = 0.6;

/** Length, from where a neck touches, after which a strut of a radius keeps the clearance all round, mm. */
export function neckRun(radius: number, { clearance }: PropLimits): number {
  return (clearance + radius) / leastDeparture + 0.5;
}

/** Least radius of a strut at a level above which so much of it stands free, mm: width of a circle as √3 · radius. */
export const radiusFor = (free: number, { slenderness }: PropLimits): number =>
  free / (slenderness * Math.sqrt(3));
