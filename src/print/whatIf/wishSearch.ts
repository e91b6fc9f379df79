import { type ChangeCost, changeCost, compareCosts } from "./changeCost";
import type { Evaluations, PrintFigures } from "./evaluations";
import type { UsualSteps } from "./usualSteps";
import { type Variant, variantKey, withSettings } from "./variant";
import { figureOf, relativeExcess, type Wish, type WishFigure } from "./wish";

/** A variant, how far it misses the wish, and what changing to it costs. */
export interface Judged {
  readonly variant: Variant;
  readonly figures: PrintFigures;
  /** Of all conditions the greatest share of its limit by which one is missed; 0: all hold. */
  readonly excess: number;
  readonly cost: ChangeCost;
}

export interface WishSearchResult {
  /** Of those that miss the wish least the one that costs least. */
  readonly best: Judged;
  /** Nothing better is left; else the search ended at its bound on geometries. */
  readonly isSure: boolean;
}

/**
 * Over layer heights and shells time and filament are taken to rise and fall as they should only up to this share: the
 * limit of flow and the rounding to whole layers may bend them a little.
 */
const slack = 0.02;

/** What the search splits its variants by, what costs a geometry first. */
const splits: readonly ((variant: Variant) => number)[] = [
  ({ orientation }) => orientation,
  ({ settings }) => settings.layerHeight,
  ({ settings }) => settings.shells,
  ({ settings }) => settings.infill,
];

interface Candidate {
  readonly variant: Variant;
  readonly cost: ChangeCost;
  /** By how much the strength misses the wish: known without an estimate. */
  readonly weakness: number;
}

/** Variants that agree in the first `depth` splits; a single one after the last. */
interface Branch {
  readonly depth: number;
  readonly members: readonly Candidate[];
  /** No member misses the wish by less, and of those that miss it by just that none costs less. */
  readonly excess: number;
  readonly cost: ChangeCost;
  readonly isProbed: boolean;
}

type Estimated = (variant: Variant) => Promise<Judged | undefined>;

/**
 * The variant that misses a wish least and, of such, costs least to change to: best first over branches, each bounded
 * from below (branch and bound: Land and Doig 1960).
 *
 * Among variants whose paths run alike, hours, grams, metres and price grow with both shares, so that one estimate at the
 * least shares bounds them all. A branch over several shells and layer heights is bounded by its fewest shells, for hours
 * at the highest layer, for filament at the lowest (a number of filled layers is thicker where they are), less 2 %;
 * spools follow the grams. What is answered was always estimated itself.
 */
export async function searchWish(
  wish: Wish,
  base: Variant,
  orientations: readonly number[],
  steps: UsualSteps,
  evaluations: Evaluations,
  mostGeometries: number,
): Promise<WishSearchResult> {
  const candidates = candidatesOf(wish, base, orientations, steps, evaluations);
  const costs = new Map(candidates.map(({ variant, cost }) => [variantKey(variant), cost]));
  let best: Judged | undefined;
  const estimated: Estimated = async (variant) => {
    const isBeyond = !evaluations.hasGeometry(variant) && evaluations.geometries >= mostGeometries;
    if (isBeyond && best) return undefined;
    const figures = await evaluations.figures(variant);
    const excess = excessOf(wish, (figure) => figureOf(figures, figure));
    const judged: Judged = { variant, figures, excess, cost: costs.get(variantKey(variant))! };
    if (!best || compared(judged, best) < 0) best = judged;
    return judged;
  };
  if (orientations.includes(base.orientation)) await estimated(base);

  const queue: Branch[] = [];
  const push = (members: readonly Candidate[], depth: number, excess: number, isProbed: boolean) => {
    const branch = branchOf(members, depth, excess, isProbed);
    let [low, high] = [0, queue.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (compared(queue[middle], branch) > 0) low = middle + 1;
      else high = middle;
    }
    queue.splice(low, 0, branch);
  };
  for (const members of split(candidates, splits[0])) push(members, 1, 0, false);
  for (let branch = queue.pop(); branch; branch = queue.pop()) {
    if (best && compared(best, branch) <= 0) break;
    const { depth, members } = branch;
    if (!branch.isProbed) {
      const excess = await leastExcess(wish, members, estimated);
      if (excess === undefined) return { best: best!, isSure: false };
      push(members, depth, Math.max(branch.excess, excess), true);
    } else {
      const parts = depth < splits.length ? split(members, splits[depth]) : members.map((one) => [one]);
      for (const part of parts) push(part, depth + 1, branch.excess, false);
    }
  }
  return { best: best!, isSure: true };
}

interface Ranked {
  readonly excess: number;
  readonly cost: ChangeCost;
}

const compared = (one: Ranked, other: Ranked): number =>
  one.excess - other.excess || compareCosts(one.cost, other.cost);

/** Every variant of the steps, with what is known of it before any estimate. */
function candidatesOf(
  wish: Wish,
  base: Variant,
  orientations: readonly number[],
  steps: UsualSteps,
  evaluations: Evaluations,
): Candidate[] {
  const before = evaluations.weakest(base);
  return orientations.flatMap((orientation) =>
    steps.shells.flatMap((shells) =>
      steps.infill.flatMap((infill) => {
        const held = evaluations.weakest(withSettings({ ...base, orientation }, { shells, infill }));
        const weakness = excessOf(wish, (figure) =>
          figure === "factor" ? (held?.factor ?? Infinity) : undefined,
        );
        return steps.layerHeight.flatMap((layerHeight) =>
          steps.supportShare.map((supportShare): Candidate => {
            const settings = { layerHeight, shells, infill, supportShare };
            const variant = withSettings({ ...base, orientation }, settings);
            return { variant, cost: changeCost(base, variant, before, held), weakness };
          }),
        );
      }),
    ),
  );
}

function branchOf(members: readonly Candidate[], depth: number, bound: number, isProbed: boolean): Branch {
  const excess = members.reduce((least, { weakness }) => Math.min(least, weakness), Infinity);
  const known = Math.max(bound, excess);
  const cost = members
    .filter(({ weakness }) => weakness <= known)
    .map((member) => member.cost)
    .reduce((least, one) => (compareCosts(one, least) < 0 ? one : least));
  return { depth, members, excess: known, cost, isProbed };
}

function split(members: readonly Candidate[], by: (variant: Variant) => number): Candidate[][] {
  const parts = new Map<number, Candidate[]>();
  for (const member of members) {
    const key = by(member.variant);
    const part = parts.get(key);
    if (part) part.push(member);
    else parts.set(key, [member]);
  }
  return [...parts.values()];
}

/** By how much every member misses the wish at least, by an estimate or two; undefined where no more are allowed. */
async function leastExcess(
  wish: Wish,
  members: readonly Candidate[],
  estimated: Estimated,
): Promise<number | undefined> {
  const least = (of: (variant: Variant) => number) =>
    members.reduce((value, { variant }) => Math.min(value, of(variant)), Infinity);
  const lowest = least(({ settings }) => settings.layerHeight);
  const highest = -least(({ settings }) => -settings.layerHeight);
  const corner = withSettings(members[0].variant, {
    shells: least(({ settings }) => settings.shells),
    infill: least(({ settings }) => settings.infill),
    supportShare: least(({ settings }) => settings.supportShare),
  });
  const asks = (...figures: WishFigure[]) => wish.conditions.some(({ figure }) => figures.includes(figure));
  const fast = await estimated(withSettings(corner, { layerHeight: highest }));
  if (!fast) return undefined;
  // What only bounds hours has no need of the other corner.
  const light =
    lowest === highest || !asks("grams", "metres", "spools", "price")
      ? fast
      : await estimated(withSettings(corner, { layerHeight: lowest }));
  if (!light) return undefined;
  if (members.length === 1) return fast.excess;
  const isOneGeometry =
    lowest === highest && members.every(({ variant }) => variant.settings.shells === corner.settings.shells);
  const kept = isOneGeometry ? 1 : 1 - slack;
  const { hours, hoursPrice = 0 } = fast.figures;
  const { grams, metres, spools, price = 0, hoursPrice: slowPrice = 0 } = light.figures;
  const bounds: Record<WishFigure, number> = {
    hours: hours * kept,
    grams: grams * kept,
    metres: metres * kept,
    price: (price - slowPrice + hoursPrice) * kept,
    spools,
    factor: Infinity,
  };
  return excessOf(wish, (figure) => bounds[figure]);
}

/** The greatest relative excess over the conditions; what is not known misses nothing. */
function excessOf({ conditions }: Wish, figureIs: (figure: WishFigure) => number | undefined): number {
  return conditions.reduce((most, condition) => {
    const value = figureIs(condition.figure);
    return value === undefined ? most : Math.max(most, relativeExcess(condition, value));
  }, 0);
}
