import { MM_PER, type Unit } from "./units";
import { isFields, typeName, type WearerReader } from "./wearerReader";

/** Girth ease where none is given, mm (usual is 6 to 13; common practice, no source). */
export const USUAL_GIRTH_EASE = 8;

/** Offset of a girth ease: an outline grown by d has 2π·d more girth (Steiner's formula). */
export const offsetOfGirthEase = (girthEase: number): number => girthEase / (2 * Math.PI);

/** Greatest ease, as an offset, that still makes sense, mm. */
const GREATEST_OFFSET = 30;

/** The ease of a wearer's document as an offset, mm. */
export const readEase = (reader: WearerReader, value: unknown, unit: Unit): number => {
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
