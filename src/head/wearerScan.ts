import { cross, distance, subtract, type Vec3 } from "../geometry/vector";
import { nearestName } from "../nearestName";
import { SCALING_MEASURES, SCAN_UNITS, type ScanPoints, type ScanRequest } from "./scanRequest";
import { type Fields, isFields, typeName, type WearerReader } from "./wearerReader";

const KEYS = ["file", "unit", "scaledBy", "points"];
const POINTS = ["brow", "leftTragion", "rightTragion"] as const;

/** The least angle's sine and the least side, as a share of the longest, that tell three points of a head apart. */
const LEAST_SHARE = 0.1;

/**
 * The scan that a wearer's document names; undefined with a message where something is wrong with it.
 * @param given names of the measures that the document gives
 */
export const readScan = (
  reader: WearerReader,
  value: unknown,
  given: ReadonlySet<string>,
): ScanRequest | undefined => {
  if (!isFields(value)) {
    reader.error(
      "wrong-type",
      "scan",
      `"scan" must be a group such as { "file": "head.stl" }, not ${typeName(value)}.`,
      'Write "scan": { "file": "head.stl" }.',
    );
    return undefined;
  }
  const before = reader.messages.length;
  reader.keys(value, KEYS, "scan.");
  const file = readFile(reader, value.file);
  const unit = readWord(reader, value.unit, SCAN_UNITS, "scan.unit");
  const scaledBy = readWord(reader, value.scaledBy, SCALING_MEASURES, "scan.scaledBy");
  if (scaledBy && !given.has(scaledBy)) {
    reader.error(
      "scan-measure-missing",
      "scan.scaledBy",
      `The scan is to be scaled by the ${scaledBy}, and no ${scaledBy} is given.`,
      `Measure the ${scaledBy}, or scale it by a measure that is given.`,
    );
  }
  const points = value.points === undefined ? undefined : readPoints(reader, value.points);
  if (file === undefined || reader.messages.length > before) return undefined;
  return { file, ...(unit && { unit }), ...(scaledBy && { scaledBy }), ...(points && { points }) };
};

const readFile = (reader: WearerReader, value: unknown): string | undefined => {
  if (typeof value === "string" && value.trim() !== "") return value;
  reader.error(
    typeof value === "string" || value === undefined ? "scan-file-missing" : "wrong-type",
    "scan.file",
    typeof value === "string" || value === undefined
      ? "The scan names no file."
      : `"scan.file" must be a text, not ${typeName(value)}.`,
    'Name an STL or OBJ file, relative to this one: "file": "head.stl".',
  );
  return undefined;
};

const readWord = <W extends string>(
  reader: WearerReader,
  value: unknown,
  known: readonly W[],
  field: string,
): W | undefined => {
  if (value === undefined) return undefined;
  const word = known.find((one) => one === value);
  if (word) return word;
  const near = typeof value === "string" ? nearestName(value, known) : undefined;
  const choices = known.map((one) => `"${one}"`).join(", ");
  reader.error(
    "unknown-word",
    field,
    `"${field}" is ${JSON.stringify(value)}.`,
    near ? `Did you mean "${near}"?` : `Use one of ${choices}.`,
  );
  return undefined;
};

const readPoints = (reader: WearerReader, value: unknown): ScanPoints | undefined => {
  if (!isFields(value)) {
    reader.error(
      "wrong-type",
      "scan.points",
      `"scan.points" must be a group of brow, leftTragion and rightTragion, not ${typeName(value)}.`,
    );
    return undefined;
  }
  reader.keys(value, POINTS, "scan.points.");
  const [brow, left, right] = POINTS.map((name) => readPoint(reader, value, name));
  if (!brow || !left || !right) return undefined;
  const longest = Math.max(distance(brow, left), distance(left, right), distance(right, brow));
  const least = Math.min(distance(brow, left), distance(left, right), distance(right, brow));
  // Twice the area over the longest side is the height of the triangle.
  const height = Math.hypot(...cross(subtract(left, brow), subtract(right, brow))) / longest;
  if (!(least > LEAST_SHARE * longest && height > LEAST_SHARE * longest)) {
    reader.error(
      "scan-points-together",
      "scan.points",
      "The brow and the two tragions lie together or on one line, so they tell no pose.",
      "Pick the brow between the eyebrows and the notch before each ear, in the scan's own coordinates.",
    );
    return undefined;
  }
  return { brow, leftTragion: left, rightTragion: right };
};

const readPoint = (reader: WearerReader, points: Fields, name: (typeof POINTS)[number]): Vec3 | undefined => {
  const value = points[name];
  const field = `scan.points.${name}`;
  if (!Array.isArray(value) || value.length !== 3) {
    reader.error(
      "wrong-type",
      field,
      `"${field}" must be a list of three numbers, not ${Array.isArray(value) ? `of ${value.length}` : typeName(value)}.`,
      "Give x, y and z in the scan's own coordinates.",
    );
    return undefined;
  }
  const hint = "Give x, y and z as bare numbers, in the scan's own coordinates.";
  const numbers = value.map((one, index) => reader.finite(one, `${field}.${index}`, hint));
  return numbers.every((one) => one !== undefined) ? (numbers as unknown as Vec3) : undefined;
};
