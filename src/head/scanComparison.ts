import type { MeasureField } from "./measurements";
import type { ScanMeasures } from "./scanMeasuring";
import {
  SCANNED_MEASURES,
  type ScalingMeasure,
  type ScanComparison,
  type ScannedMeasure,
} from "./scanRequest";

/**
 * Standard errors of measures taken off a scan, mm: half of what ISO 20685-1 allows between scan and hand for small
 * girths (4 mm) and for heads with hair (2 mm; from memory); the crown's as its end at the tragions is not touched.
 */
const scanErrors: Readonly<Record<ScannedMeasure, number>> = {
  girth: 2,
  length: 1,
  breadth: 1,
  crownHeight: 3,
};
/** A scale is doubtful where another measure differs by more than this share, and by more than two standard errors. */
const doubtfulShare = 0.04;

/** What was given of a head, mm, with its standard error. */
export type GivenMeasures = Partial<
  Record<MeasureField, { readonly mm: number; readonly standardError: number }>
>;

/**
 * The measures that result on a scan beside those that were given: a wrong scale, or a wrong head, shows at once, since
 * one measure scales all others.
 * @param girthError by how much the scan's girth reads too little over a gap, mm
 */
export function compareMeasures(
  measured: ScanMeasures,
  given: GivenMeasures,
  scaledBy: ScalingMeasure | undefined,
  girthError: number,
): ScanComparison[] {
  return SCANNED_MEASURES.map((field): ScanComparison => {
    const onScan = measured[field];
    const one = given[field];
    const isScale = field === scaledBy;
    if (one === undefined) return { field, onScan, isScale, isDoubtful: false };
    const gap = field === "girth" ? girthError : 0;
    const standardError = Math.hypot(one.standardError, scanErrors[field], gap);
    const difference = Math.abs(onScan - one.mm);
    const isDoubtful = !isScale && difference > Math.max(doubtfulShare * one.mm, 2 * standardError);
    return { field, onScan, given: one.mm, standardError, isScale, isDoubtful };
  });
}
