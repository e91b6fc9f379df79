import type { PrintSettingName } from "../../printSettings";
import { candidateOf, changedNames, changeLine, changeWords } from "./changes";
import { type EvaluatedRow, foretoldBest, isWorthwhile, numbersOf } from "./combinations";
import { Evaluations, type PrintFigures } from "./evaluations";
import { evenly, paretoFront } from "./pareto";
import { stepsAround, type UsualSteps, usualSteps } from "./usualSteps";
import {
  geometryKey,
  type OrientationCandidate,
  type PrintEvaluator,
  type Variant,
  variantKey,
  variedNames,
  withSettings,
} from "./variant";

/** One way of printing among others. */
export interface WhatIfRow extends EvaluatedRow {
  readonly changed: readonly (PrintSettingName | "orientation")[];
  /** The change in words, and the option of the design that makes it. */
  readonly words: string;
  readonly line: string;
  /** The piece has room on the plate. */
  readonly fits: boolean;
  /** This row less the base. */
  readonly difference: Differences;
  /** No row that fits takes less of hours, grams and layer height, with no weaker an arm, and no more of any. */
  readonly isBest: boolean;
}

export interface Differences {
  readonly hours: number;
  readonly grams: number;
  readonly metres: number;
  readonly price?: number;
  readonly spools: number;
  readonly factor?: number;
}

export interface WhatIfTable {
  /** Sorted, the base among them. */
  readonly rows: readonly WhatIfRow[];
  readonly base: WhatIfRow;
  /** Nothing more will come. */
  readonly isWhole: boolean;
  /** How often paths were laid for it. */
  readonly geometries: number;
}

export type WhatIfOrder = "hours" | "grams" | "metres" | "price" | "spools" | "factor";

export interface WhatIfOptions {
  /** Bore of the nozzle, mm: it bounds the height of layers. */
  readonly nozzle: number;
  /** What the rows are sorted by, the least first, of strength the greatest; hours unless given. */
  readonly order?: WhatIfOrder;
  /** Paths are laid for no more ways of printing; 24 unless given. */
  readonly mostGeometries?: number;
  /** 12 unless given. */
  readonly mostCombinations?: number;
  readonly signal?: AbortSignal;
  /** The table as far as it is there, the base first, then after every new way of laying paths. */
  readonly onTable?: (table: WhatIfTable) => void;
}

/** Of the shares of infill and support, so many of the usual ones on each side of the base are tried. */
const sharesAround = 3;

/**
 * What would change it: a table of ways to print a piece. One setting at a time over its usual values, every way up, and
 * combinations that are best.
 *
 * Combinations are not all evaluated. What each would take is foretold from the single changes as if they did not depend
 * on one another (their ratios to the base multiply); of those that nothing betters by that, as many are evaluated as the
 * bound on geometries allows, and those stay that nothing evaluated betters and that take no longer than the base.
 * @throws the signal's reason once it is aborted.
 */
export async function whatIf(
  base: Variant,
  candidates: readonly OrientationCandidate[],
  evaluator: PrintEvaluator,
  options: WhatIfOptions,
): Promise<WhatIfTable> {
  const { nozzle, order = "hours", mostGeometries = 24, mostCombinations = 12, signal, onTable } = options;
  candidateOf(base, candidates);
  const steps = usualSteps(base.settings, nozzle);
  const evaluations = new Evaluations(evaluator, signal);
  const rows = new Map<string, EvaluatedRow>();
  const baseRow = { kind: "base", variant: base, figures: await evaluations.figures(base) } as const;
  rows.set(variantKey(base), baseRow);
  const tableOf = (isWhole: boolean): WhatIfTable => {
    const all = finishedRows([...rows.values()], baseRow, candidates, order);
    return {
      rows: all,
      base: all.find(({ kind }) => kind === "base")!,
      isWhole,
      geometries: evaluations.geometries,
    };
  };
  onTable?.(tableOf(false));

  const singles = groupedByGeometry(singleChanges(base, candidates, steps), base);
  for (const group of singles) {
    if (!evaluations.hasGeometry(group[0]) && evaluations.geometries >= mostGeometries) continue;
    for (const variant of group) {
      rows.set(variantKey(variant), {
        kind: "single",
        variant,
        figures: await evaluations.figures(variant),
      });
    }
    onTable?.(tableOf(false));
  }

  const known = new Map<string, EvaluatedRow>(rows);
  const foretold = groupedByGeometry(foretoldBest([...rows.values()], baseRow, candidates), base);
  const isMade = (group: readonly Variant[]) => evaluations.hasGeometry(group[0]);
  const chosen = [
    ...foretold.filter(isMade),
    ...evenly(
      foretold.filter((group) => !isMade(group)),
      Math.max(0, mostGeometries - evaluations.geometries),
    ),
  ];
  for (const group of chosen) {
    for (const variant of group) {
      known.set(variantKey(variant), {
        kind: "combination",
        variant,
        figures: await evaluations.figures(variant),
      });
    }
  }
  const best = paretoFront(
    [...known.values()].filter(({ variant }) => candidateOf(variant, candidates).fits),
    numbersOf,
  );
  const worthwhile = best
    .filter(({ kind, figures }) => kind === "combination" && isWorthwhile(figures, baseRow.figures))
    .sort((one, other) => one.figures.hours - other.figures.hours);
  for (const row of evenly(worthwhile, mostCombinations)) rows.set(variantKey(row.variant), row);
  const table = tableOf(true);
  onTable?.(table);
  return table;
}

function singleChanges(
  base: Variant,
  candidates: readonly OrientationCandidate[],
  steps: UsualSteps,
): Variant[] {
  const around = { layerHeight: Infinity, shells: 1, infill: sharesAround, supportShare: sharesAround };
  return [
    ...variedNames.flatMap((name) =>
      stepsAround(steps[name], base.settings[name], around[name]).map((value) =>
        withSettings(base, { [name]: value }),
      ),
    ),
    ...candidates.flatMap((_, orientation) =>
      orientation === base.orientation ? [] : [{ ...base, orientation }],
    ),
  ];
}

/** Variants whose paths run alike side by side, those of the base first, else in their order. */
function groupedByGeometry(variants: readonly Variant[], base: Variant): Variant[][] {
  const groups = new Map<string, Variant[]>([[geometryKey(base), []]]);
  for (const variant of variants) {
    const key = geometryKey(variant);
    const group = groups.get(key);
    if (group) group.push(variant);
    else groups.set(key, [variant]);
  }
  return [...groups.values()].filter((group) => group.length > 0);
}

function finishedRows(
  rows: readonly EvaluatedRow[],
  base: EvaluatedRow,
  candidates: readonly OrientationCandidate[],
  order: WhatIfOrder,
): WhatIfRow[] {
  const fits = (row: EvaluatedRow) => candidateOf(row.variant, candidates).fits;
  const best = new Set(paretoFront(rows.filter(fits), numbersOf));
  const sortedBy = ({ figures }: EvaluatedRow): number =>
    order === "factor" ? -(figures.weakest?.factor ?? 0) : (figures[order] ?? 0);
  return rows
    .map(
      (row): WhatIfRow => ({
        ...row,
        changed: changedNames(base.variant, row.variant),
        words: row.kind === "base" ? "as set up" : changeWords(base.variant, row.variant, candidates),
        line: changeLine(base.variant, row.variant, candidates),
        fits: fits(row),
        difference: differences(row.figures, base.figures),
        isBest: best.has(row),
      }),
    )
    .sort(
      (one, other) =>
        sortedBy(one) - sortedBy(other) ||
        one.figures.hours - other.figures.hours ||
        one.figures.grams - other.figures.grams ||
        one.changed.length - other.changed.length,
    );
}

const differences = (now: PrintFigures, before: PrintFigures): Differences => ({
  hours: now.hours - before.hours,
  grams: now.grams - before.grams,
  metres: now.metres - before.metres,
  ...(now.price !== undefined && before.price !== undefined && { price: now.price - before.price }),
  spools: now.spools - before.spools,
  ...(now.weakest && before.weakest && { factor: now.weakest.factor - before.weakest.factor }),
});
