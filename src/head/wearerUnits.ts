import { UNITS, type Unit } from "./units";
import type { WearerReader } from "./wearerReader";

/** The unit of a wearer's document; mm where it is missing or unknown, with a message. */
export const readUnits = (reader: WearerReader, value: unknown): Unit => {
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
