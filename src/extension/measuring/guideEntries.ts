import type { Readings } from "../../build/takeReadings";
import { documentOf, lineOfJson } from "../../build/wearerEdit";
import { TAKEN_FIELDS, type TakenField } from "../../head/readings";
import type { Unit } from "../../head/units";
import type { Entries } from "../../pages/measuringGuide/protocol";
import { lengthTyped } from "../wizards/wearerAnswers";

/** The measure that is guessed, not taken. */
export const HAIR = "hairThickness";

/** What was typed, told apart: readings that are lengths, and texts that are none. */
export interface TypedReadings {
  /** Of the measures that are other than the file has them; an empty list takes a measure out. */
  readonly changed: Readings;
  readonly hair?: { readonly value: number | undefined };
  /** Texts that are no length, by measure. */
  readonly unreadable: ReadonlyMap<string, string>;
}

/** The readings that a wearer's file holds, as texts; a bare number counts as one. */
export function entriesOf(text: string): Entries {
  const document = documentOf(text);
  const entries = TAKEN_FIELDS.map((field) => [field, readingTexts(document[field])] as const);
  return Object.fromEntries([...entries, [HAIR, readingTexts(document[HAIR])]]);
}

const readingTexts = (value: unknown): string[] => {
  if (typeof value === "number") return [String(value)];
  const { readings } = (typeof value === "object" && value !== null ? value : {}) as { readings?: unknown };
  return Array.isArray(readings) ? readings.map(String) : [];
};

/** What a wearer's file says of a measure that is no reading; undefined where it says nothing such. */
export function standsInFile(text: string, measure: string): string | undefined {
  const document = documentOf(text);
  const value = document[measure] as { value?: unknown; tolerance?: unknown } | undefined;
  if (measure === "girth" && value === undefined && document.hatSize !== undefined) {
    return `hat size ${lineOfJson(document.hatSize).replaceAll('"', "")}`;
  }
  if (typeof value !== "object" || value.value === undefined) return undefined;
  return `${value.value}${value.tolerance === undefined ? "" : ` ± ${value.tolerance}`}`;
}

/** Reads what was typed, in a unit, against what the file holds. */
export function typedReadings(text: string, entries: Entries, unit: Unit): TypedReadings {
  const before = entriesOf(text);
  const changed = new Map<TakenField, number[]>();
  const unreadable = new Map<string, string>();
  let hair: { readonly value: number | undefined } | undefined;
  for (const measure of [...TAKEN_FIELDS, HAIR] as const) {
    const typed = (entries[measure] ?? []).map((one) => one.trim()).filter((one) => one !== "");
    if (sameTexts(typed, before[measure])) continue;
    const lengths = typed.map((one) => lengthTyped(one, unit));
    const wrong = typed.find((_, i) => lengths[i] === undefined);
    if (wrong !== undefined) unreadable.set(measure, wrong);
    else if (measure === HAIR) hair = { value: lengths[0] };
    else changed.set(measure, lengths as number[]);
  }
  return { changed, unreadable, ...(hair && { hair }) };
}

const sameTexts = (a: readonly string[], b: readonly string[]): boolean =>
  a.length === b.length && a.every((text, i) => text === b[i]);
