import type { HeadFamily } from "../../head/headFamily";
import type { DrawnHeads } from "../../head/headsModel";
import { DRAWN_FIELDS, type DrawnField } from "../../head/surveyedHeads";
import type { HeadFit, HeadJudge } from "./headJudge";

/** Shares of drawn heads, 0 to 1, by how a piece goes with them. */
export type FitShares = Readonly<Record<HeadFit, number>>;

/**
 * Judges a piece on drawn heads.
 * @param crownHeight of the head that the piece was made for, mm
 */
export function fitShares(
  judge: HeadJudge,
  family: HeadFamily,
  heads: DrawnHeads,
  crownHeight: number,
): FitShares {
  const counts = { fits: 0, tight: 0, loose: 0 };
  for (let head = 0; head < heads.count; head++) {
    const drawn = measureOf(heads, head);
    counts[judge.fit(family.head(drawn), drawn("crownHeight") - crownHeight)]++;
  }
  const { fits, tight, loose } = counts;
  return { fits: fits / heads.count, tight: tight / heads.count, loose: loose / heads.count };
}

/** The measures of one of the drawn heads. */
export const measureOf =
  ({ values }: DrawnHeads, head: number) =>
  (field: DrawnField): number =>
    values[head * DRAWN_FIELDS.length + DRAWN_FIELDS.indexOf(field)];

/** Standard deviations of the drawn measures, mm. */
export function spreadOf(heads: DrawnHeads): Record<DrawnField, number> {
  const spread = DRAWN_FIELDS.map((field) => {
    let [sum, squares] = [0, 0];
    for (let k = 0; k < heads.count; k++) sum += measureOf(heads, k)(field);
    const mean = sum / heads.count;
    for (let k = 0; k < heads.count; k++) squares += (measureOf(heads, k)(field) - mean) ** 2;
    return [field, Math.sqrt(squares / heads.count)] as const;
  });
  return Object.fromEntries(spread) as Record<DrawnField, number>;
}
