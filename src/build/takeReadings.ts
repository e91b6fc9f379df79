import { TAKEN_FIELDS, type TakenField } from "../head/readings";
import type { Unit } from "../head/units";
import { readMeasures, type TakenMeasures } from "../head/wearerMeasures";
import { WearerReader } from "../head/wearerReader";
import { type Message, MessageError } from "../message";
import { readDataText } from "./dataFile";
import { documentOf, lineOfJson, withKeys } from "./wearerEdit";

export type Readings = ReadonlyMap<TakenField, readonly number[]>;

export interface TakenDown {
  /** The text of the wearer's file with the readings in it. */
  readonly text: string;
  /** What is said of the file now. */
  readonly messages: readonly Message[];
}

/** The text of a file for a wearer of whom nothing is known yet. */
export const newWearerText = (name: string, units: Unit): string =>
  `{\n  "name": ${JSON.stringify(name)},\n  "units": ${JSON.stringify(units)}\n}\n`;

/**
 * Takes readings down into the text of a wearer's file; the rest of it stays as it is. A number that stands there counts as
 * a reading before them. A girth takes the place of a hat size.
 * @param readings in the units of the file
 * @param how `add`: after those that stand there; `set`: in their place, and none takes the measure out
 * @param others further keys and what they are to hold
 * @throws MessageError where the text is no wearer's file, or would be none with the readings
 */
export function takeReadings(
  text: string,
  file: string,
  readings: Readings,
  how: "add" | "set",
  others: ReadonlyMap<string, unknown> = new Map(),
): TakenDown {
  const bare = text.replace(/^\uFEFF/, "");
  const before = faultsOf(readDataText(bare, file, "wearer").messages);
  if (before.length > 0) throw new MessageError(before);
  const document = documentOf(bare);
  const values = new Map<string, unknown>(others);
  const notes: Message[] = [];
  for (const [field, given] of readings) {
    values.set(
      field,
      how === "add" ? added(field, document[field], given, file) : set(document[field], given),
    );
    if (field === "girth" && given.length > 0 && document.hatSize !== undefined) {
      values.set("hatSize", undefined);
      notes.push({
        id: "hat-size-replaced",
        severity: "note",
        field: "girth",
        file,
        text: `The hat size ${lineOfJson(document.hatSize)} was taken out: the girth that was measured stands in its place.`,
      });
    }
  }
  const changed = withKeys(bare, values);
  const { messages } = readDataText(changed, file, "wearer");
  const faults = faultsOf(messages);
  if (faults.length > 0) throw new MessageError(faults);
  return { text: text.slice(0, text.length - bare.length) + changed, messages: [...notes, ...messages] };
}

/** A file that is being filled may lack the girth until it is taken. */
const faultsOf = (messages: readonly Message[]): Message[] =>
  messages.filter(({ severity, id }) => severity === "error" && id !== "missing-girth");

function added(field: TakenField, present: unknown, given: readonly number[], file: string): unknown {
  if (present === undefined) return { readings: given };
  if (typeof present === "number") return { readings: [present, ...given] };
  const group = present as { value?: number; tolerance?: number; readings?: readonly number[] };
  if (group.readings) return { ...group, readings: [...group.readings, ...given] };
  throw new MessageError([
    {
      id: "reading-not-added",
      severity: "error",
      field,
      file,
      text: `The ${field} is given as the value ${lineOfJson(present)}, and readings do not add to that.`,
      suggestion: `Write it as readings first: "${field}": { "readings": [${group.value}] }.`,
    },
  ]);
}

function set(present: unknown, given: readonly number[]): unknown {
  if (given.length === 0) return undefined;
  const group = present as { readings?: unknown; tolerance?: number } | undefined;
  const keeps = typeof group === "object" && group.readings !== undefined && group.tolerance !== undefined;
  return { readings: given, ...(keeps && { tolerance: group.tolerance }) };
}

/** What the text of a wearer's file gives of each measure, as far as it can be read, mm, and its units. */
export function measuresInText(text: string): { readonly units: Unit; readonly taken: TakenMeasures } {
  const document = documentOf(text.replace(/^\uFEFF/, ""));
  const units = document.units === "cm" || document.units === "in" ? document.units : "mm";
  return { units, taken: readMeasures(new WearerReader(), document, units) };
}

/** A field by its name as a person writes it; undefined where there is none. */
export const takenField = (name: string): TakenField | undefined =>
  TAKEN_FIELDS.find((field) => field.toLowerCase() === name.trim().toLowerCase());
