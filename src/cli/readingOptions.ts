import { type Readings, takenField } from "../build/takeReadings";
import { TAKEN_FIELDS, type TakenField } from "../head/readings";
import { inUnit, MM_PER, UNITS, type Unit } from "../head/units";
import { didYouMean } from "../nearestName";
import { splitOnce } from "./arguments";
import { UsageError } from "./command";

/** The unit of a new wearer's file: mm unless given. Throws a `UsageError` for any other word. */
export function readUnit(value: unknown): Unit {
  if (value === undefined) return "mm";
  const unit = UNITS.find((known) => known === value);
  if (unit) return unit;
  const words: Readonly<Record<string, Unit>> = {
    millimetres: "mm",
    millimeters: "mm",
    centimetres: "cm",
    centimeters: "cm",
    inches: "in",
    inch: "in",
  };
  const meant = words[String(value).toLowerCase()];
  throw new UsageError(
    `--units is "${String(value)}"`,
    meant ? `write --units ${meant}` : (didYouMean(String(value), UNITS) ?? "use mm, cm or in"),
  );
}

/**
 * Readings as `girth=567`, in the units of the file; a unit may follow the number and must be the file's. Throws a `UsageError`
 * that names the nearest measure.
 */
export function readReadings(given: readonly string[], units: Unit): Readings {
  const readings = new Map<TakenField, number[]>();
  for (const text of given) {
    const [name, value] = splitOnce(text, "=");
    const field = takenField(name);
    if (!field) {
      throw new UsageError(
        `--reading ${text}: there is no measure "${name}"`,
        didYouMean(name, TAKEN_FIELDS) ?? `the measures are ${TAKEN_FIELDS.join(", ")}`,
      );
    }
    readings.set(field, [...(readings.get(field) ?? []), readLength(text, value, units)]);
  }
  return readings;
}

function readLength(text: string, value: string | undefined, units: Unit): number {
  const match = /^\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|in)?\s*$/i.exec(value ?? "");
  const number = match ? Number(match[1].replace(",", ".")) : 0;
  if (!match || number === 0) {
    throw new UsageError(
      `--reading ${text}: ${value === undefined || value === "" ? "the number is missing" : `"${value}" is no length`}`,
      `write the number alone, in ${units}, as in --reading girth=${Number((567 / MM_PER[units]).toFixed(1))}`,
    );
  }
  const unit = match[2]?.toLowerCase() as Unit | undefined;
  if (unit && unit !== units) {
    throw new UsageError(
      `--reading ${text}: the wearer's file is in ${units}`,
      `write ${inUnit(number * MM_PER[unit], units)}`,
    );
  }
  return number;
}
