import type { ScanUnit } from "./scanRequest";

/** A unit that scans come in. */
export interface LengthUnit {
  readonly key: ScanUnit;
  readonly mm: number;
  readonly name: string;
}

export const lengthUnits: readonly LengthUnit[] = [
  { key: "mm", mm: 1, name: "millimetres" },
  { key: "cm", mm: 10, name: "centimetres" },
  { key: "in", mm: 25.4, name: "inches" },
  { key: "m", mm: 1000, name: "metres" },
];

/** A unit is believed when the scan in it is within this share of the size that fits best. */
const believed = 0.12;
/** The same where nothing was measured that the size could be held against: heads of infants and of giants. */
const believedOfAnyHead = 0.35;

/**
 * The unit in which a scan has the size of the form, about, by the mm in one of its units at which it fits best.
 * @param isMeasured whether the form is of the wearer's own measures, else of the mean head's
 */
export function likelyUnit(fittedScale: number, isMeasured: boolean): LengthUnit | undefined {
  const tolerance = isMeasured ? believed : believedOfAnyHead;
  return lengthUnits
    .filter(({ mm }) => Math.abs(fittedScale / mm - 1) <= tolerance)
    .sort((a, b) => Math.abs(fittedScale / a.mm - 1) - Math.abs(fittedScale / b.mm - 1))[0];
}

export const unitNamed = (key: ScanUnit): LengthUnit => lengthUnits.find((unit) => unit.key === key)!;
