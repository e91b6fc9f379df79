import type { WeakArm } from "../plan";
import { type Variant, variedNames } from "./variant";

/**
 * What a change costs besides the print: first what the weakest arm loses in strength, in whole per cent (less is not
 * felt), then how many things are changed, then how much: the sum of |ln(now / before)|, another way up as much as a
 * doubling.
 */
export interface ChangeCost {
  /** Share of the strength before, 0 to 1, to the whole per cent; 0 where it grows, or is not known. */
  readonly strengthLoss: number;
  readonly changes: number;
  readonly size: number;
}

export function changeCost(
  base: Variant,
  variant: Variant,
  before: WeakArm | undefined,
  after: WeakArm | undefined,
): ChangeCost {
  const loss = before && after && before.factor > 0 ? 1 - after.factor / before.factor : 0;
  const isTurned = variant.orientation !== base.orientation;
  let changes = isTurned ? 1 : 0;
  let size = isTurned ? Math.LN2 : 0;
  for (const name of variedNames) {
    const [now, then] = [variant.settings[name], base.settings[name]];
    if (now === then) continue;
    changes += 1;
    // A share may be 0: what is added keeps that finite and counts for hardly anything else.
    size += Math.abs(Math.log((now + 0.01) / (then + 0.01)));
  }
  return { strengthLoss: Math.max(0, Math.round(100 * loss)) / 100, changes, size };
}

/** Less than zero where the first costs less. */
export const compareCosts = (one: ChangeCost, other: ChangeCost): number =>
  one.strengthLoss - other.strengthLoss || one.changes - other.changes || one.size - other.size;
