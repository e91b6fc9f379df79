import { candidateOf, changedNames, changeLine, changeWords } from "./changes";
import { Evaluations, type PrintFigures } from "./evaluations";
import type { WishProblem } from "./parseWish";
import { stepsForWish } from "./usualSteps";
import type { OrientationCandidate, PrintEvaluator, Variant } from "./variant";
import { figureOf, relativeExcess, type Wish } from "./wish";
import type { MissedCondition, WishAnswer, WishChoice } from "./wishAnswer";
import { impossibleWords, metWords, remedies } from "./wishAnswerWords";
import { type Judged, searchWish } from "./wishSearch";

export interface WishOptions {
  /** Bore of the nozzle, mm: it bounds the height of layers. */
  readonly nozzle: number;
  /** Paths are laid for no more ways of printing; 80 unless given. */
  readonly mostGeometries?: number;
  readonly signal?: AbortSignal;
  /** What prices are shown in. */
  readonly currency?: string;
}

/**
 * The cheapest change that meets a wish, or what comes nearest to it. Print settings stay within what is sensible
 * (`stepsForWish`); the way up is one of those candidates that fit the plate, where any does. What a change costs:
 * `changeCost`.
 * @throws RangeError for a wish without conditions; the signal's reason once it is aborted.
 */
export async function meetWish(
  wish: Wish,
  base: Variant,
  candidates: readonly OrientationCandidate[],
  evaluator: PrintEvaluator,
  options: WishOptions,
): Promise<WishAnswer> {
  const { nozzle, mostGeometries = 80, signal, currency } = options;
  if (wish.conditions.length === 0) throw new RangeError("The wish has no conditions: give one at least.");
  candidateOf(base, candidates);
  const steps = stepsForWish(base.settings, nozzle);
  const evaluations = new Evaluations(evaluator, signal);
  const before = await evaluations.figures(base);
  const problems = unknownFigures(wish, before, evaluations.knowsStrength);
  if (problems.length > 0) return { outcome: "unknown", problems };

  const all = candidates.map((_, i) => i);
  const fitting = all.filter((i) => candidates[i].fits);
  const orientations = fitting.length > 0 ? fitting : all;
  const { best, isSure } = await searchWish(wish, base, orientations, steps, evaluations, mostGeometries);
  const choice = choiceOf(best, base, candidates);
  const shared = { choice, before, isSure, geometries: evaluations.geometries };
  const missed = wish.conditions.flatMap((condition): MissedCondition[] => {
    const value = figureOf(best.figures, condition.figure)!;
    const excess = relativeExcess(condition, value);
    return excess > 0 ? [{ condition, value, excess }] : [];
  });
  if (missed.length === 0) {
    return { outcome: "met", ...shared, words: metWords(wish, choice, before, isSure, currency) };
  }
  return {
    outcome: "impossible",
    ...shared,
    missed,
    remedies: remedies(missed, choice),
    words: impossibleWords(missed, choice, before, isSure, currency),
  };
}

function choiceOf(
  { variant, figures, cost }: Judged,
  base: Variant,
  candidates: readonly OrientationCandidate[],
): WishChoice {
  return {
    variant,
    figures,
    changed: changedNames(base, variant),
    change: changeWords(base, variant, candidates),
    line: changeLine(base, variant, candidates),
    cost,
    fits: candidateOf(variant, candidates).fits,
  };
}

function unknownFigures(wish: Wish, figures: PrintFigures, knowsStrength: boolean): WishProblem[] {
  return wish.conditions.flatMap(({ figure, text }): WishProblem[] => {
    if (figure === "price" && figures.price === undefined) {
      return [
        {
          text: `"${text}": no prices are known`,
          suggestion: 'give "pricePerKilogram" in the material\'s file or "pricePerHour" in the printer\'s',
        },
      ];
    }
    if (figure === "factor" && !knowsStrength) {
      return [
        { text: `"${text}": the strength of the piece is not known`, suggestion: "leave that condition out" },
      ];
    }
    return [];
  });
}
