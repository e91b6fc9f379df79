import type { MeasureInput } from "./report";
import { rounded } from "./rounding";

/** The measures of a head form, mm: as asked for, and as its mesh has them. */
export interface HeadReport {
  readonly format: "anadem-head";
  readonly formatVersion: 1;
  readonly wearer: string;
  /** Girth, length, breadth and crown height as measured on the mesh. */
  readonly measuredMm: Readonly<Record<string, number>>;
  readonly wantedMm: Readonly<Record<string, number>>;
  /** The measures that were not taken, with the standard error of the estimate. */
  readonly estimatedMm: Readonly<Record<string, { readonly value: number; readonly standardError: number }>>;
}

/** Composes the report of a head form. */
export function composeHeadReport(
  wearer: string,
  measures: Readonly<Record<string, MeasureInput>>,
): HeadReport {
  const entries = Object.entries(measures);
  return {
    format: "anadem-head",
    formatVersion: 1,
    wearer,
    measuredMm: Object.fromEntries(
      entries.flatMap(([name, { onHead }]) => (onHead === undefined ? [] : [[name, rounded(onHead, 3)]])),
    ),
    wantedMm: Object.fromEntries(entries.map(([name, { value }]) => [name, rounded(value, 1)])),
    estimatedMm: Object.fromEntries(
      entries.flatMap(([name, { value, standardError }]) =>
        standardError === undefined
          ? []
          : [[name, { value: rounded(value, 1), standardError: rounded(standardError, 1) }]],
      ),
    ),
  };
}

/** The report for a person: each measure, what the form has, and where it comes from. */
export function headReportText({ wearer, measuredMm, wantedMm, estimatedMm }: HeadReport): string {
  const names = Object.keys(wantedMm);
  const width = Math.max(...names.map((name) => name.length));
  const rows = names.map((name) => {
    const estimate = estimatedMm[name];
    const origin = estimate ? `estimated, ± ${estimate.standardError.toFixed(1)} (standard error)` : "given";
    const onForm = measuredMm[name] === undefined ? "" : `; ${measuredMm[name].toFixed(1)} on the form`;
    return `  ${name.padEnd(width)}  ${wantedMm[name].toFixed(1).padStart(6)} mm  ${origin}${onForm}`;
  });
  return [`Head of ${wearer}`, ...rows, ""].join("\n");
}
