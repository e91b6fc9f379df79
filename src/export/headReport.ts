import type { ScannedHead, ScanRequest } from "../head/scanRequest";
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
  /** How far off measures that were taken may be: two standard errors. Those that are taken as exact are not named. */
  readonly toleranceMm?: Readonly<Record<string, number>>;
  /** How the scan that is the head was scaled, and what results. */
  readonly scan?: HeadScanReport;
  /** The measures that were not taken, with the standard error of the estimate. */
  readonly estimatedMm: Readonly<Record<string, { readonly value: number; readonly standardError: number }>>;
}

/** A scan that became a head form. */
export interface HeadScanReport {
  readonly file: string;
  /** mm in one unit of the scan. */
  readonly scale: number;
  /** The unit that it is in, or looks to be in; null where it has a head's size in no known unit. */
  readonly unit: string | null;
  /** The measure that it was scaled by; null where it keeps its own size. */
  readonly scaledBy: string | null;
  /** Each measure as the scan has it, beside what was given. */
  readonly measures: Readonly<Record<string, HeadScanMeasure>>;
  /** 95 % of the scan above the girth lies within this distance of the form. */
  readonly withinMm: number;
  /** Share of the form above the girth that the scan lacks. */
  readonly filledPercent: number;
}

export interface HeadScanMeasure {
  readonly onScanMm: number;
  readonly givenMm?: number;
  readonly differenceMm?: number;
  /** Two standard errors of the difference. */
  readonly toleranceMm?: number;
  readonly doubtful?: boolean;
}

const scanReport = ({ file }: ScanRequest, scanned: ScannedHead): HeadScanReport => ({
  file,
  scale: Number(scanned.scale.toPrecision(7)),
  unit: scanned.unit ?? null,
  scaledBy: scanned.scaledBy ?? null,
  measures: Object.fromEntries(
    scanned.comparisons.map(({ field, onScan, given, standardError, isDoubtful }) => [
      field,
      {
        onScanMm: rounded(onScan, 2),
        ...(given !== undefined && {
          givenMm: rounded(given, 2),
          differenceMm: rounded(onScan - given, 2),
          doubtful: isDoubtful,
        }),
        ...(standardError !== undefined && { toleranceMm: rounded(2 * standardError, 1) }),
      },
    ]),
  ),
  withinMm: rounded(scanned.within, 2),
  filledPercent: rounded(100 * scanned.filled, 1),
});

/** Composes the report of a head form, and of the scan where it is one's. */
export function composeHeadReport(
  wearer: string,
  measures: Readonly<Record<string, MeasureInput>>,
  request?: ScanRequest,
  scanned?: ScannedHead,
): HeadReport {
  const entries = Object.entries(measures);
  const tolerances = entries.flatMap(([name, { tolerance }]) =>
    tolerance === undefined ? [] : [[name, rounded(tolerance, 1)] as const],
  );
  return {
    format: "anadem-head",
    formatVersion: 1,
    wearer,
    measuredMm: Object.fromEntries(
      entries.flatMap(([name, { onHead }]) => (onHead === undefined ? [] : [[name, rounded(onHead, 3)]])),
    ),
    wantedMm: Object.fromEntries(entries.map(([name, { value }]) => [name, rounded(value, 1)])),
    ...(tolerances.length > 0 && { toleranceMm: Object.fromEntries(tolerances) }),
    ...(request && scanned && { scan: scanReport(request, scanned) }),
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
export function headReportText({
  wearer,
  measuredMm,
  wantedMm,
  estimatedMm,
  toleranceMm = {},
  scan,
}: HeadReport): string {
  const names = Object.keys(wantedMm);
  const width = Math.max(...names.map((name) => name.length));
  const rows = names.map((name) => {
    const estimate = estimatedMm[name];
    const onScan = scan?.measures[name];
    const origin = estimate
      ? `estimated, ± ${estimate.standardError.toFixed(1)} (standard error)`
      : onScan
        ? scanWords(name, onScan, scan?.scaledBy)
        : givenWords(toleranceMm[name]);
    const onForm = measuredMm[name] === undefined ? "" : `; ${measuredMm[name].toFixed(1)} on the form`;
    return `  ${name.padEnd(width)}  ${wantedMm[name].toFixed(1).padStart(6)} mm  ${origin}${onForm}`;
  });
  return [`Head of ${wearer}`, ...rows, ...(scan ? scanLines(scan) : []), ""].join("\n");
}

const scanWords = (name: string, measure: HeadScanMeasure, scaledBy: string | null | undefined): string => {
  const { givenMm, differenceMm, toleranceMm, doubtful } = measure;
  if (givenMm === undefined || differenceMm === undefined) return "on the scan";
  if (name === scaledBy) return "given: the scan is scaled by it";
  const off = `${differenceMm < 0 ? "−" : "+"}${Math.abs(differenceMm).toFixed(1)} mm, ${differenceMm < 0 ? "−" : "+"}${Math.abs((100 * differenceMm) / givenMm).toFixed(1)} %`;
  return `on the scan; ${givenMm.toFixed(1)} given: ${off}, ± ${(toleranceMm ?? 0).toFixed(1)} by measuring${doubtful ? ": the scale is doubtful" : ""}`;
};

const scanLines = ({ file, scale, unit, scaledBy, withinMm, filledPercent }: HeadScanReport): string[] => {
  const looks = unit === null ? "in no known unit" : scaledBy ? `which looks to be in ${unit}` : `in ${unit}`;
  return [
    `  scan  ${file}, ${looks}: ${scale} mm in one of its units${scaledBy ? `, scaled by its ${scaledBy}` : ", at its own size"}`,
    `        95 % of it above the girth lies within ${withinMm.toFixed(2)} mm of the form; ${filledPercent.toFixed(1)} % of the form there is filled by the mean head`,
  ];
};

const givenWords = (tolerance: number | undefined): string =>
  tolerance === undefined ? "given" : `given, ± ${tolerance.toFixed(1)} (as measured)`;
