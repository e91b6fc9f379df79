import { isRecord, isText, isWhole } from "../../messageGuards";
import type { Entries, FromGuide, ToGuide } from "./protocol";

/** Run-time checks of what the extension and the guide tell each other: nothing of the other side is believed unseen. */

const listOf = (value: unknown, is: (one: unknown) => boolean): boolean =>
  Array.isArray(value) && value.every(is);
const maybeText = (value: unknown): boolean => value === undefined || isText(value);

/** Longer texts are no lengths, and more readings nobody takes. */
const longestText = 40;
const mostReadings = 9;

const isEntries = (value: unknown): value is Entries =>
  isRecord(value) &&
  Object.values(value).every(
    (texts) =>
      listOf(texts, (text) => isText(text) && text.length <= longestText) &&
      (texts as unknown[]).length <= mostReadings,
  );

const isStep = (value: unknown): boolean =>
  isRecord(value) &&
  [value.measure, value.title, value.instrument, value.where, value.how, value.mistakes].every(isText) &&
  maybeText(value.drawing) &&
  maybeText(value.stands) &&
  (value.readings === 1 || value.readings === 2) &&
  typeof value.isNeeded === "boolean";

const isRemark = (value: unknown): boolean =>
  isRecord(value) && isText(value.text) && ["error", "warning", "note"].includes(String(value.severity));

const isVerdict = (value: unknown): boolean =>
  isRecord(value) &&
  [value.mean, value.difference, value.allowed, value.estimate].every(maybeText) &&
  typeof value.differ === "boolean" &&
  listOf(value.remarks, isRemark);

const toGuide: Readonly<Record<string, (message: Record<string, unknown>) => boolean>> = {
  guide: ({ key, name, unit, units, steps, entries, cautions }) =>
    [key, name, unit].every(isText) &&
    listOf(units, isText) &&
    listOf(steps, isStep) &&
    isEntries(entries) &&
    listOf(cautions, isText),
  verdict: ({ request, verdicts, canFinish }) =>
    isWhole(request) &&
    isRecord(verdicts) &&
    Object.values(verdicts).every(isVerdict) &&
    typeof canFinish === "boolean",
  finished: ({ isWritten, text }) => typeof isWritten === "boolean" && isText(text),
};

const fromGuide: typeof toGuide = {
  ready: () => true,
  check: ({ request, unit, entries }) => isWhole(request) && isText(unit) && isEntries(entries),
  finish: ({ unit, entries }) => isText(unit) && isEntries(entries),
  sheet: () => true,
  fault: ({ text }) => isText(text),
};

const read = (value: unknown, known: typeof toGuide): boolean =>
  isRecord(value) &&
  isText(value.kind) &&
  Object.hasOwn(known, value.kind) &&
  known[value.kind](value) === true;

/** What came from the extension, or undefined where it is not a message of ours, whole and well-formed. */
export const readToGuide = (value: unknown): ToGuide | undefined =>
  read(value, toGuide) ? (value as ToGuide) : undefined;

/** What came from the page, or undefined where it is not a message of ours, whole and well-formed. */
export const readFromGuide = (value: unknown): FromGuide | undefined =>
  read(value, fromGuide) ? (value as FromGuide) : undefined;

/** What the page keeps over a reload of the window. */
export interface KeptGuide {
  readonly key: string;
  readonly at: number;
  readonly unit: string;
  readonly entries: Entries;
}

/** The state that the page keeps with `setState`; undefined where there is none. */
export function readKeptGuide(state: unknown): KeptGuide | undefined {
  if (!isRecord(state)) return undefined;
  const { key, at, unit, entries } = state;
  if (!isText(key) || !isWhole(at) || !isText(unit) || !isEntries(entries)) return undefined;
  return { key, at: at as number, unit, entries };
}
