import { type ChangeCost, changeCost, compareCosts } from "../../../src/print/whatIf/changeCost";
import type { PrintFigures } from "../../../src/print/whatIf/evaluations";
import { stepsForWish } from "../../../src/print/whatIf/usualSteps";
import { type Variant, withSettings } from "../../../src/print/whatIf/variant";
import { figureOf, relativeExcess, type Wish } from "../../../src/print/whatIf/wish";

export const nozzle = 0.4;

/** Every variant among which a wish may choose. */
export function allVariants(base: Variant, orientations: readonly number[]): Variant[] {
  const steps = stepsForWish(base.settings, nozzle);
  return orientations.flatMap((orientation) =>
    steps.layerHeight.flatMap((layerHeight) =>
      steps.shells.flatMap((shells) =>
        steps.infill.flatMap((infill) =>
          steps.supportShare.map((supportShare) =>
            withSettings({ ...base, orientation }, { layerHeight, shells, infill, supportShare }),
          ),
        ),
      ),
    ),
  );
}

/** The slow obvious way to answer a wish: every variant estimated, the least missed kept, of those the cheapest. */
export function tryEverything(
  wish: Wish,
  base: Variant,
  orientations: readonly number[],
  figuresOf: (variant: Variant) => PrintFigures,
): { readonly variant: Variant; readonly excess: number; readonly cost: ChangeCost } {
  const before = figuresOf(base);
  return allVariants(base, orientations)
    .map((variant) => {
      const figures = figuresOf(variant);
      const excesses = wish.conditions.map((condition) =>
        relativeExcess(condition, figureOf(figures, condition.figure)!),
      );
      return {
        variant,
        excess: Math.max(...excesses),
        cost: changeCost(base, variant, before.weakest, figures.weakest),
      };
    })
    .reduce((best, one) =>
      (one.excess - best.excess || compareCosts(one.cost, best.cost)) < 0 ? one : best,
    );
}
