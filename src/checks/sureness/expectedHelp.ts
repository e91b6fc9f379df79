import { completeMeasurements } from "../../head/completeMeasurements";
import type { HeadFamily } from "../../head/headFamily";
import type { DrawnHeads } from "../../head/headsModel";
import { errorOf, type KnownHead } from "../../head/knownHead";
import type { GivenMeasurements, Measurements } from "../../head/measurements";
import type { DrawnField } from "../../head/surveyedHeads";
import { measureOf } from "./fitShares";
import type { HeadJudge } from "./headJudge";

/** Measures that shape what a piece rests on; ears it only has to pass. */
const helpful: readonly DrawnField[] = ["girth", "length", "breadth", "crownHeight"];
/** A measure that is known better than this is not worth to be taken again, mm. */
const leastError = 0.5;
/** How far a measure is moved to see how the estimates of others go with it, mm. */
const step = 20;
/** Heads on which a refitted piece is judged. */
const mostHeads = 120;

/** A measure, and the chance that is expected once it is taken exactly and the piece is made for it. */
export interface Help {
  readonly field: DrawnField;
  readonly chance: number;
}

/**
 * What each more measure would help: on each drawn head the piece is refitted to what would be estimated if that head's
 * own measure were known, and judged on that head. The mean over the heads is the chance that is expected before it is
 * measured. All are judged on the same heads, so that their differences are not noise.
 * @returns the best first, each with its chance; and the chance with nothing more measured, on the same heads
 */
export function expectedHelp(
  known: KnownHead,
  heads: DrawnHeads,
  family: HeadFamily,
  judge: HeadJudge,
): { readonly without: number; readonly helps: readonly Help[] } {
  const own = known.measurements;
  const count = Math.min(heads.count, mostHeads);
  const from = judge.radiiBelow(family.head((field) => own[field] ?? 0));
  const fittingShare = (
    estimates: ((field: DrawnField, value: number) => number) | undefined,
    by?: DrawnField,
  ) => {
    let fits = 0;
    for (let k = 0; k < count; k++) {
      const drawn = measureOf(heads, Math.floor((k * heads.count) / count));
      let madeFor = own.crownHeight;
      if (estimates && by) {
        const value = drawn(by);
        judge.refit(
          family.head((field) => estimates(field, value)),
          from,
        );
        madeFor = estimates("crownHeight", value);
      }
      if (judge.fit(family.head(drawn), drawn("crownHeight") - madeFor) === "fits") fits++;
    }
    return fits / count;
  };
  judge.asMade();
  const without = fittingShare(undefined);
  const helps = helpful
    .filter((field) => (errorOf(known, field) ?? Infinity) > leastError)
    .map((field): Help => ({ field, chance: fittingShare(estimatesBy(known, field), field) }))
    .sort((a, b) => b.chance - a.chance);
  judge.asMade();
  return { without, helps };
}

/** The measures that would be taken or estimated if one had a value: straight in that value, as regressions are. */
function estimatesBy(known: KnownHead, by: DrawnField): (field: DrawnField, value: number) => number {
  const own = known.measurements;
  const given: { -readonly [Field in keyof Measurements]?: Measurements[Field] } = {};
  for (const field of Object.keys(own) as (keyof Measurements)[]) {
    if (errorOf(known, field) !== undefined) given[field] = own[field];
  }
  const middle = own[by] ?? 0;
  const at = (value: number): Measurements =>
    completeMeasurements({ ...given, [by]: value } as GivenMeasurements).measurements;
  const [low, high] = [at(middle - step), at(middle + step)];
  return (field, value) => {
    const [a, b] = [low[field] ?? 0, high[field] ?? 0];
    return a + ((b - a) * (value - middle + step)) / (2 * step);
  };
}
