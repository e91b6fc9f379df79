import type { OrientationWeightName, OrientationWeights } from "../../orientation";
import type { OrientationFigures } from "./quickFigures";

/** What each thing is measured by, so that things of different units can be added. */
export type CostReferences = Readonly<Record<OrientationWeightName, number>>;

/** What of an orientation's figures each weight counts: the less, the better. */
export function costValues(
  { hours, supportVolume, height, footprint, scars, thinColumns, weakest }: OrientationFigures,
  greatestFootprint: number,
): Record<OrientationWeightName, number> {
  return {
    hours,
    support: supportVolume,
    height,
    footprint: Math.max(0, greatestFootprint - footprint),
    scars,
    thinColumns,
    // Of the stress that the weakest arm bears, the share that a given load takes up.
    layers: weakest !== undefined && weakest > 0 ? 1 / weakest : 0,
  };
}

/**
 * References for a piece: of each thing the median over directions spread evenly over the sphere, which does not depend on
 * how the piece stands in its own frame; where that is nothing, the mean, and 1 where there is none of it at all. The
 * footprint is held against the greatest that any direction gives.
 * @throws RangeError without figures
 */
export function costReferences(
  spread: readonly OrientationFigures[],
  greatestFootprint: number,
): CostReferences {
  if (spread.length === 0) throw new RangeError("There are no directions to take references from.");
  const values = spread.map((figures) => costValues(figures, greatestFootprint));
  const typical = (name: OrientationWeightName): number => {
    const sorted = values.map((value) => value[name]).sort((a, b) => a - b);
    const median = sorted[sorted.length >> 1];
    if (median > 0) return median;
    const mean = sorted.reduce((sum, value) => sum + value, 0) / sorted.length;
    return mean > 0 ? mean : 1;
  };
  return {
    hours: typical("hours"),
    support: typical("support"),
    height: typical("height"),
    footprint: greatestFootprint > 0 ? greatestFootprint : 1,
    scars: typical("scars"),
    thinColumns: typical("thinColumns"),
    layers: typical("layers"),
  };
}

/** Σ weight · value / reference: what is least is best. */
export function orientationCost(
  figures: OrientationFigures,
  references: CostReferences,
  weights: OrientationWeights,
): number {
  const values = costValues(figures, references.footprint);
  let cost = 0;
  for (const name of Object.keys(weights) as OrientationWeightName[]) {
    cost += (weights[name] * values[name]) / references[name];
  }
  return cost;
}
