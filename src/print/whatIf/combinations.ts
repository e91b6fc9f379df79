import { candidateOf } from "./changes";
import type { PrintFigures } from "./evaluations";
import { paretoFront } from "./pareto";
import { type OrientationCandidate, type Variant, variedNames, withSettings } from "./variant";

/** A way of printing that was evaluated for the table. */
export interface EvaluatedRow {
  /** As set up; with one thing changed; or with several together. */
  readonly kind: "base" | "single" | "combination";
  readonly variant: Variant;
  readonly figures: PrintFigures;
}

/** Combinations keep this much of the base's support share: what thin supports spoil is in no figure of a row. */
const leastSupport = 0.5;

/** What takes longer than the base is no combination to propose: single changes show what that would bring. */
export const isWorthwhile = ({ hours }: Pick<PrintFigures, "hours">, base: PrintFigures): boolean =>
  hours <= base.hours;

/** What a row is judged by, less is better: time, filament, strength, and how fine its layers are. */
export const numbersOf = ({ figures, variant }: EvaluatedRow): number[] => [
  figures.hours,
  figures.grams,
  -(figures.weakest?.factor ?? 0),
  variant.settings.layerHeight,
];

/** Combinations of at least two single changes that nothing betters by what the single changes foretell. */
export function foretoldBest(
  rows: readonly EvaluatedRow[],
  base: EvaluatedRow,
  candidates: readonly OrientationCandidate[],
): Variant[] {
  interface Foretold {
    readonly variant: Variant;
    readonly changes: number;
    readonly hours: number;
    readonly grams: number;
    readonly factor: number;
  }
  const { figures } = base;
  let grid: Foretold[] = [
    {
      variant: base.variant,
      changes: 0,
      hours: figures.hours,
      grams: figures.grams,
      factor: figures.weakest?.factor ?? 0,
    },
  ];
  const ratio = (now: number, before: number) => (before > 0 ? now / before : 1);
  for (const name of [...variedNames, "orientation"] as const) {
    const single = rows.filter(
      ({ kind, variant }) =>
        kind === "single" &&
        (name !== "supportShare" ||
          variant.settings.supportShare >= leastSupport * base.variant.settings.supportShare) &&
        (name === "orientation"
          ? variant.orientation !== base.variant.orientation
          : variant.settings[name] !== base.variant.settings[name]),
    );
    grid = grid.flatMap((from) => [
      from,
      ...single.map((row): Foretold => {
        const variant =
          name === "orientation"
            ? { ...from.variant, orientation: row.variant.orientation }
            : withSettings(from.variant, { [name]: row.variant.settings[name] });
        return {
          variant,
          changes: from.changes + 1,
          hours: from.hours * ratio(row.figures.hours, figures.hours),
          grams: from.grams * ratio(row.figures.grams, figures.grams),
          factor: from.factor * ratio(row.figures.weakest?.factor ?? 0, figures.weakest?.factor ?? 0),
        };
      }),
    ]);
  }
  const fitting = grid.filter(({ variant }) => candidateOf(variant, candidates).fits);
  return paretoFront(fitting, ({ hours, grams, factor, variant }) => [
    hours,
    grams,
    -factor,
    variant.settings.layerHeight,
  ])
    .filter((row) => row.changes > 1 && isWorthwhile(row, figures))
    .sort((one, other) => one.hours - other.hours)
    .map(({ variant }) => variant);
}
