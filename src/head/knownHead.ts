import type { Estimate, MeasureField, Measurements } from "./measurements";
import type { Wearer } from "./wearer";

/** What is known of a head, and how well. */
export interface KnownHead {
  /** Complete, mm: what was measured, and what the rest was estimated to be. */
  readonly measurements: Measurements;
  /** Measures that were not taken. */
  readonly estimated: readonly Estimate[];
  /** Standard errors of measures that were taken, mm; one that is not named is taken as exact. */
  readonly measuringErrors?: Readonly<Partial<Record<MeasureField, number>>>;
}

/** What is known of a wearer's head. */
export const knownHeadOf = ({ measurements, estimated, measuringErrors }: Wearer): KnownHead => ({
  measurements,
  estimated,
  ...(measuringErrors && { measuringErrors }),
});

/**
 * Standard error of a measure as it was taken, mm: 0 where it is exact, undefined where it was not taken at all. A girth
 * read off a hat size counts as taken, as well as the size tells it.
 */
export function errorOf({ estimated, measuringErrors }: KnownHead, field: MeasureField): number | undefined {
  const estimate = estimated.find((own) => own.field === field);
  if (estimate) return estimate.from.length === 0 ? estimate.standardError : undefined;
  return measuringErrors?.[field] ?? 0;
}
