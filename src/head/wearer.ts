import type { Message } from "../message";
import type { LimitValues } from "../wearLimits";
import { completeMeasurements } from "./completeMeasurements";
import { expectation } from "./estimate";
import type { Estimate, MeasureField, Measurements } from "./measurements";
import { MEAN_GIRTH, SURVEY } from "./population";
import { TAKEN_FIELDS } from "./readings";
import type { ScannedHead, ScanRequest } from "./scanRequest";
import { MM_PER, UNIT_NAME, type Unit } from "./units";
import { readEase } from "./wearerEase";
import { girthFromHatSize, readHatSize } from "./wearerHatSize";
import { readLimits } from "./wearerLimits";
import { errorsOf, readMeasures, type TakenMeasures } from "./wearerMeasures";
import { type Fields, isFields, typeName, WearerReader } from "./wearerReader";
import { readScan } from "./wearerScan";
import { readUnits } from "./wearerUnits";

export { offsetOfGirthEase, USUAL_GIRTH_EASE } from "./wearerEase";

/** Somebody a headpiece is made for. */
export interface Wearer {
  readonly name: string;
  /** mm, complete. */
  readonly measurements: Measurements;
  /** Room left between head and piece as an offset, mm. */
  readonly easeOffset: number;
  /** Room for hair where hair grows, mm. */
  readonly hairThickness: number;
  readonly notes?: string;
  /** Limits of fit and wear that are this wearer's own. */
  readonly limits?: LimitValues;
  /** The measures that were not taken. */
  readonly estimated: readonly Estimate[];
  /** Standard errors of measures that were taken, mm; one that is not named is taken as exact. */
  readonly measuringErrors?: Readonly<Partial<Record<MeasureField, number>>>;
  /** The scan that the file names. */
  readonly scan?: ScanRequest;
  /** The head form of that scan, once it was read: it stands in for the one of the measurements. */
  readonly scanned?: ScannedHead;
}

export interface WearerReading {
  /** Undefined where there are errors among the messages. */
  readonly wearer?: Wearer;
  readonly messages: readonly Message[];
}

/** Every key of a wearer's file. */
export const WEARER_KEYS: readonly string[] = [
  "$schema",
  "name",
  "units",
  ...TAKEN_FIELDS,
  "hairThickness",
  "hatSize",
  "ease",
  "limits",
  "scan",
  "notes",
];

/**
 * Reads a wearer from the content of a wearer's file. Every finding names the field it is about; unknown keys and
 * wrong types are errors.
 */
export const wearerFromDocument = (document: unknown): WearerReading => {
  const reader = new WearerReader();
  if (!isFields(document)) {
    reader.error("wrong-type", "", `A wearer must be a group of fields, not ${typeName(document)}.`);
    return { messages: reader.messages };
  }
  reader.keys(document, WEARER_KEYS, "");
  const unit = readUnits(reader, document.units);
  const name = reader.text(document.name, "name");
  const notes = reader.text(document.notes, "notes");
  if (document.name === undefined || name === "") {
    reader.error("missing-name", "name", "The wearer has no name.", 'Add "name".');
  }
  const taken = readMeasures(reader, document, unit);
  const hair =
    document.hairThickness === undefined
      ? undefined
      : reader.number(document.hairThickness, "hairThickness", true);
  const easeOffset = readEase(reader, document.ease, unit);
  const limits = readLimits(reader, document.limits);
  const scan =
    document.scan === undefined ? undefined : readScan(reader, document.scan, new Set(Object.keys(document)));
  const foretold = girthNotTaken(reader, document, taken, unit);
  const girth = taken.girth?.value ?? foretold?.mm;
  if (girth === undefined) return { messages: reader.messages };
  const given = {
    ...valuesOf(taken),
    ...(hair !== undefined && { hairThickness: hair * MM_PER[unit] }),
    girth,
  };
  const { measurements, estimated, findings } = completeMeasurements(given, unit);
  const messages = [...reader.messages, ...findings];
  if (messages.some((message) => message.severity === "error")) return { messages };
  const measuringErrors = errorsOf(taken);
  return {
    wearer: {
      name: name as string,
      measurements,
      easeOffset,
      hairThickness: measurements.hairThickness as number,
      ...(notes === undefined ? {} : { notes }),
      ...(limits === undefined ? {} : { limits }),
      estimated: [...(foretold ? [foretold.estimate] : []), ...estimated],
      ...(Object.keys(measuringErrors).length > 0 && { measuringErrors }),
      ...(scan && { scan }),
    },
    messages,
  };
};

const valuesOf = (taken: TakenMeasures): Partial<Record<MeasureField, number>> =>
  Object.fromEntries(Object.entries(taken).map(([field, { value }]) => [field, value]));

/** A girth that no tape took: from the hat size, or, where a scan stands in for it, the likeliest. */
const girthNotTaken = (
  reader: WearerReader,
  document: Fields,
  taken: TakenMeasures,
  unit: Unit,
): { readonly mm: number; readonly estimate: Estimate } | undefined => {
  const hat = document.hatSize === undefined ? undefined : readHatSize(reader, document.hatSize);
  if (hat && document.girth !== undefined) {
    reader.error(
      "girth-twice",
      "hatSize",
      "Both a girth and a hat size are given.",
      "Keep the girth: it is the better.",
    );
  }
  if (taken.girth || document.girth !== undefined) return undefined;
  if (hat) return rounded(girthFromHatSize(hat));
  if (document.hatSize !== undefined) return undefined;
  if (document.scan !== undefined) return rounded(likeliestGirth(taken));
  reader.error(
    "missing-girth",
    "girth",
    "The head girth is missing; it is the one measure that a head form needs.",
    `Measure around the brow and the widest back of the head and give it in ${UNIT_NAME[unit]}, or give a hatSize.`,
  );
  return undefined;
};

const tenths = (value: number): number => Math.round(value * 10) / 10;

const rounded = (estimate: Estimate): { readonly mm: number; readonly estimate: Estimate } => ({
  mm: estimate.value,
  estimate: { ...estimate, value: tenths(estimate.value), standardError: tenths(estimate.standardError) },
});

/** The girth that the other measures foretell; that of the mean head where there are none. */
const likeliestGirth = (taken: TakenMeasures): Estimate => {
  const from = TAKEN_FIELDS.filter((field) => taken[field] !== undefined && field !== "girth");
  const spread = SURVEY.find(({ field }) => field === "girth")?.deviation ?? 0;
  if (from.length === 0) return { field: "girth", value: MEAN_GIRTH, standardError: spread, from };
  const known = new Map(from.map((field): [MeasureField, number] => [field, taken[field]?.value ?? 0]));
  return { field: "girth", ...expectation("girth", known), from };
};
