import { type Message, MessageError } from "../message";
import { nearestName } from "../nearestName";
import { type LimitValues, limitProblems } from "../wearLimits";
import { completeMeasurements } from "./completeMeasurements";
import {
  girthOfHatSize,
  HAT_SYSTEMS,
  type HatSize,
  type HatSystem,
  hatSizeStep,
  parseHatSize,
} from "./hatSize";
import type { Estimate, MeasureField, Measurements } from "./measurements";
import type { ScannedHead, ScanRequest } from "./scanRequest";
import { MM_PER, UNIT_NAME, UNITS, type Unit } from "./units";

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

/** Girth ease where none is given, mm (usual is 6 to 13; common practice, no source). */
export const USUAL_GIRTH_EASE = 8;

/** Offset of a girth ease: an outline grown by d has 2π·d more girth (Steiner's formula). */
export const offsetOfGirthEase = (girthEase: number): number => girthEase / (2 * Math.PI);

const LENGTHS: readonly MeasureField[] = [
  "girth",
  "length",
  "breadth",
  "crownHeight",
  "bitragionArc",
  "earLength",
  "earProtrusion",
  "interpupillaryDistance",
  "neckGirth",
  "hairThickness",
];

/** Every key of a wearer's file. */
export const WEARER_KEYS: readonly string[] = [
  "$schema",
  "name",
  "units",
  ...LENGTHS,
  "hatSize",
  "ease",
  "limits",
  "notes",
];

/** Greatest ease, as an offset, that still makes sense, mm. */
const GREATEST_OFFSET = 30;

type Fields = Readonly<Record<string, unknown>>;
const isFields = (value: unknown): value is Fields =>
  typeof value === "object" && value !== null && !Array.isArray(value);

const typeName = (value: unknown): string =>
  value === null
    ? "null"
    : Array.isArray(value)
      ? "a list"
      : typeof value === "object"
        ? "a group"
        : `a ${typeof value}`;

/** Reads one wearer's document; collects what is wrong with it. */
class Reader {
  readonly messages: Message[] = [];

  error(id: string, field: string, text: string, suggestion?: string): void {
    this.messages.push({ id, severity: "error", field, text, ...(suggestion ? { suggestion } : {}) });
  }

  keys(fields: Fields, known: readonly string[], path: string): void {
    for (const key of Object.keys(fields)) {
      if (known.includes(key)) continue;
      const near = nearestName(key, known);
      this.error(
        "unknown-key",
        path + key,
        `Unknown key "${key}".`,
        near ? `Did you mean "${near}"?` : `Known keys: ${known.join(", ")}.`,
      );
    }
  }

  /** A number at least 0 (or above 0), else undefined with a message. */
  number(value: unknown, field: string, zero: boolean): number | undefined {
    if (typeof value !== "number") {
      this.error(
        "wrong-type",
        field,
        `"${field}" must be a number, not ${typeName(value)}${typeof value === "string" ? ` (${JSON.stringify(value)})` : ""}.`,
        'Write the bare number and state the unit once in "units".',
      );
    } else if (!Number.isFinite(value)) {
      this.error("measure-not-a-number", field, `"${field}" is ${value}, not a number.`);
    } else if (value < 0 || (!zero && value === 0)) {
      this.error(
        "measure-not-positive",
        field,
        `"${field}" is ${value}; it must be ${zero ? "0 or more" : "above 0"}.`,
      );
    } else {
      return value;
    }
    return undefined;
  }

  text(value: unknown, field: string): string | undefined {
    if (value === undefined || typeof value === "string") return value;
    this.error("wrong-type", field, `"${field}" must be a text, not ${typeName(value)}.`);
    return undefined;
  }
}

const readUnits = (reader: Reader, value: unknown): Unit => {
  const unit = UNITS.find((known) => known === value);
  if (unit) return unit;
  if (value === undefined) {
    reader.error("missing-units", "units", "The units are missing.", 'Add "units": "mm", "cm" or "in".');
  } else {
    reader.error(
      "unknown-units",
      "units",
      `Unknown units ${JSON.stringify(value)}.`,
      'Use "mm", "cm" or "in".',
    );
  }
  return "mm";
};

const readHatSize = (reader: Reader, value: unknown): HatSize | undefined => {
  try {
    if (typeof value === "string" || typeof value === "number") return parseHatSize(value);
    if (isFields(value)) {
      reader.keys(value, ["system", "size"], "hatSize.");
      const system = HAT_SYSTEMS.find((known) => known === value.system) as HatSystem | undefined;
      if (!system) {
        reader.error(
          "unknown-hat-system",
          "hatSize.system",
          `Unknown hat size system ${JSON.stringify(value.system) ?? "(none)"}.`,
          'Use "metric", "US" or "UK".',
        );
        return undefined;
      }
      if (typeof value.size === "string" || typeof value.size === "number")
        return parseHatSize(value.size, system);
    }
    reader.error(
      "wrong-type",
      "hatSize",
      `"hatSize" must be a text such as "US 7 1/4" or a group of system and size, not ${typeName(value)}.`,
    );
  } catch (error) {
    if (!(error instanceof MessageError)) throw error;
    reader.messages.push(...error.messages);
  }
  return undefined;
};

/** Ease as an offset, mm. */
const readEase = (reader: Reader, value: unknown, unit: Unit): number => {
  const usual = offsetOfGirthEase(USUAL_GIRTH_EASE);
  if (value === undefined) return usual;
  if (!isFields(value)) {
    reader.error(
      "wrong-type",
      "ease",
      `"ease" must be { "girth": number } or { "offset": number }, not ${typeName(value)}.`,
    );
    return usual;
  }
  reader.keys(value, ["girth", "offset"], "ease.");
  if ((value.girth === undefined) === (value.offset === undefined)) {
    reader.error(
      "ease-ambiguous",
      "ease",
      `"ease" must give either "girth" or "offset"${value.girth === undefined ? "" : ", not both"}.`,
      "Girth ease is added to the girth; the offset is girth ease / 2π.",
    );
    return usual;
  }
  const key = value.girth === undefined ? "offset" : "girth";
  const number = reader.number(value[key], `ease.${key}`, true);
  if (number === undefined) return usual;
  const mm = number * MM_PER[unit];
  const offset = key === "girth" ? offsetOfGirthEase(mm) : mm;
  if (offset > GREATEST_OFFSET) {
    reader.error(
      "ease-too-great",
      `ease.${key}`,
      `An ease of ${number} ${unit} leaves ${offset.toFixed(1)} mm all around, more than ${GREATEST_OFFSET} mm.`,
      "Usual is a girth ease of 6 to 13 mm.",
    );
  }
  return offset;
};

/** Limits in their own units, whatever the file's. */
const readLimits = (reader: Reader, value: unknown): LimitValues | undefined => {
  if (value === undefined) return undefined;
  if (!isFields(value)) {
    reader.error(
      "wrong-type",
      "limits",
      `"limits" must be a group such as { "nodForward": 20 }, not ${typeName(value)}.`,
    );
    return undefined;
  }
  for (const { id, name, text, suggestion } of limitProblems(value)) {
    reader.error(id, `limits.${name}`, text, suggestion);
  }
  return value as LimitValues;
};

/**
 * Reads a wearer from the content of a wearer's file. Every finding names the field it is about; unknown keys and
 * wrong types are errors.
 */
export const wearerFromDocument = (document: unknown): WearerReading => {
  const reader = new Reader();
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
  const given: { -readonly [Field in MeasureField]?: number } = {};
  for (const field of LENGTHS) {
    if (document[field] === undefined) continue;
    const number = reader.number(document[field], field, field === "hairThickness");
    if (number !== undefined) given[field] = number * MM_PER[unit];
  }
  const hat = document.hatSize === undefined ? undefined : readHatSize(reader, document.hatSize);
  if (hat && document.girth !== undefined) {
    reader.error(
      "girth-twice",
      "hatSize",
      "Both a girth and a hat size are given.",
      "Keep the girth: it is the better.",
    );
  }
  const offset = readEase(reader, document.ease, unit);
  const limits = readLimits(reader, document.limits);
  const extra: Estimate[] = [];
  if (hat && given.girth === undefined) {
    given.girth = girthOfHatSize(hat);
    // Any girth within the step is sold the same size: a uniform spread.
    const standardError = hatSizeStep(hat.system) / Math.sqrt(12);
    extra.push({
      field: "girth",
      value: Math.round(given.girth * 10) / 10,
      standardError: Math.round(standardError * 10) / 10,
      from: [],
    });
  }
  if (given.girth === undefined && document.girth === undefined && document.hatSize === undefined) {
    reader.error(
      "missing-girth",
      "girth",
      "The head girth is missing; it is the one measure that a head form needs.",
      `Measure around the brow and the widest back of the head and give it in ${UNIT_NAME[unit]}, or give a hatSize.`,
    );
  }
  if (given.girth === undefined) return { messages: reader.messages };
  const { measurements, estimated, findings } = completeMeasurements({ ...given, girth: given.girth }, unit);
  const messages = [...reader.messages, ...findings];
  if (messages.some((message) => message.severity === "error")) return { messages };
  return {
    wearer: {
      name: name as string,
      measurements,
      easeOffset: offset,
      hairThickness: measurements.hairThickness as number,
      ...(notes === undefined ? {} : { notes }),
      ...(limits === undefined ? {} : { limits }),
      estimated: [...extra, ...estimated],
    },
    messages,
  };
};
