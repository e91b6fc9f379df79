import Ajv from "ajv";
import { describe, expect, it, test } from "vitest";
import { readDataText } from "../../src/build/dataFile";
import limitsSchema from "../../src/build/limits.schema.json";
import { READING_LIMITS, summaryOfReadings, TAKEN_FIELDS } from "../../src/head/readings";
import { seededNormals } from "../../src/head/seededNormals";
import { wearerFromDocument } from "../../src/head/wearer";
import schema from "../../src/head/wearer.schema.json";

const validate = new Ajv({ strict: false }).addSchema(limitsSchema, "limits.schema.json").compile(schema);

const base = { name: "Marina, second siren", units: "mm", girth: 571, length: 197, breadth: 152 };

const errorsOf = (document: unknown) =>
  wearerFromDocument(document).messages.filter(({ severity }) => severity === "error");

describe("measures that carry an error", () => {
  it("takes a tolerance as two standard errors, in the file's units", () => {
    const { wearer } = wearerFromDocument({ name: "A", units: "cm", girth: { value: 56.7, tolerance: 0.3 } });
    expect(wearer?.measurements.girth).toBeCloseTo(567, 9);
    expect(wearer?.measuringErrors?.girth).toBeCloseTo(1.5, 9);
  });

  it("takes the mean of readings, with the error that readings of that measure usually have", () => {
    const { wearer, messages } = wearerFromDocument({ ...base, girth: { readings: [567, 570] } });
    expect(messages).toEqual([]);
    expect(wearer?.measurements.girth).toBe(568.5);
    // 6 mm are 2.8 standard deviations of one reading; the mean of two has that over √2.
    expect(wearer?.measuringErrors?.girth).toBeCloseTo(6 / 2.8 / Math.SQRT2, 9);
    expect(wearer?.measuringErrors).not.toHaveProperty("length");
  });

  it("never claims less error than the readings themselves show", () => {
    const { wearer } = wearerFromDocument({ ...base, length: { readings: [190, 197, 204] } });
    // s = 7, s / √3.
    expect(wearer?.measuringErrors?.length).toBeCloseTo(7 / Math.sqrt(3), 9);
    const stated = wearerFromDocument({ ...base, girth: { readings: [567, 570], tolerance: 8 } });
    expect(stated.wearer?.measuringErrors?.girth).toBe(4);
  });

  it("leaves bare numbers exact", () => {
    expect(wearerFromDocument(base).wearer).not.toHaveProperty("measuringErrors");
    expect(wearerFromDocument({ ...base, girth: { value: 571 } }).wearer).not.toHaveProperty(
      "measuringErrors",
    );
  });

  it("warns of readings that differ too much, with the difference, the limit and what to do", () => {
    const { wearer, messages } = wearerFromDocument({
      ...base,
      units: "cm",
      girth: { readings: [56.2, 57.2] },
      length: 19.7,
      breadth: 15.2,
    });
    expect(wearer).toBeDefined();
    expect(messages).toHaveLength(1);
    expect(messages[0]).toMatchObject({ id: "readings-differ", severity: "warning", field: "girth" });
    expect(messages[0].text).toContain("56.2 cm and 57.2 cm, differ by 1 cm; more than 0.6 cm");
    expect(messages[0].suggestion).toContain("a third time");
  });

  it("says of three readings which one stands apart", () => {
    const [said] = wearerFromDocument({ ...base, girth: { readings: [571, 560, 570] } }).messages;
    expect(said.text).toContain("560 mm stands apart");
    const close = wearerFromDocument({ ...base, girth: { readings: [571, 568, 570] } }).messages;
    expect(close).toEqual([]);
  });

  it.each([
    [{ ...base, girth: { value: 571, tolerence: 3 } }, "girth.tolerence", "tolerance"],
    [{ ...base, girth: { value: "571" } }, "girth.value", "bare number"],
    [{ ...base, girth: { value: 571, tolerance: -1 } }, "girth.tolerance", undefined],
    [{ ...base, girth: { value: 571, readings: [571] } }, "girth", "readings"],
    [{ ...base, girth: { tolerance: 3 } }, "girth", "readings"],
    [{ ...base, girth: [567, 570] }, "girth", '{ "readings": [567,570] }'],
    [{ ...base, length: { readings: [197, "198"] } }, "length.readings.1", "bare number"],
    [{ ...base, length: { readings: [] } }, "length.readings", "[567, 570]"],
    [{ ...base, hairThickness: { value: 3 } }, "hairThickness", undefined],
  ])("refuses %j at its field", (document, field, hint) => {
    const [error, ...others] = errorsOf(document);
    expect(others).toEqual([]);
    expect(error.field).toBe(field);
    if (hint) expect(error.suggestion).toContain(hint);
    expect(validate(document)).toBe(false);
  });

  it("points at the nested value in the file", () => {
    const text =
      '{\n  "name": "A",\n  "units": "mm",\n  "girth": 570,\n  "length": { "readings": [196, -2] }\n}\n';
    const [error] = readDataText(text, "a.wearer.json", "wearer").messages;
    expect(error).toMatchObject({
      id: "measure-not-positive",
      field: "length.readings.1",
      line: 5,
      column: 33,
    });
    const [unknown] = readDataText(text.replace("readings", "reading"), "a.wearer.json", "wearer").messages;
    expect(unknown).toMatchObject({ id: "unknown-key", line: 5, column: 15 });
  });

  it("reads all that its schema takes", () => {
    for (const field of TAKEN_FIELDS) {
      const value = wearerFromDocument(base).wearer?.measurements[field] as number;
      for (const form of [value, { value }, { value, tolerance: 1 }, { readings: [value, value + 1] }]) {
        const document = { ...base, [field]: form };
        expect(validate(document), field).toBe(true);
        expect(errorsOf(document), field).toEqual([]);
      }
    }
  });
});

describe("a scan of the head", () => {
  const points = { brow: [0, 100, 40], leftTragion: [-77, 0, 0], rightTragion: [77, 0, 0] };

  it("stands without girth and hat size: then the girth is that of a mean head, as an estimate", () => {
    const document = { name: "A", units: "mm", scan: { file: "a.stl" } };
    const { wearer, messages } = wearerFromDocument(document);
    expect(messages).toEqual([]);
    expect(wearer?.scan).toEqual({ file: "a.stl" });
    expect(wearer?.measurements.girth).toBe(568);
    const estimate = wearer?.estimated.find(({ field }) => field === "girth");
    expect(estimate?.standardError).toBeCloseTo(18.2, 1);
    expect(validate(document)).toBe(true);
  });

  it("foretells the girth from the measures that are given with it", () => {
    const { wearer } = wearerFromDocument({
      name: "A",
      units: "mm",
      length: 210,
      breadth: 160,
      scan: { file: "a.stl" },
    });
    expect(wearer?.measurements.girth).toBeGreaterThan(585);
    expect(wearer?.estimated[0]).toMatchObject({ field: "girth", from: ["length", "breadth"] });
  });

  it("takes unit, scaling and points", () => {
    const scan = { file: "heads/a.obj", unit: "m", scaledBy: "girth", points };
    const document = { ...base, scan };
    expect(wearerFromDocument(document).wearer?.scan).toEqual(scan);
    expect(validate(document)).toBe(true);
  });

  it.each([
    [{}, "scan.file", "scan-file-missing", false],
    [{ file: 3 }, "scan.file", "wrong-type", false],
    ["a.stl", "scan", "wrong-type", false],
    [{ file: "a.stl", unit: "inch" }, "scan.unit", "unknown-word", false],
    [{ file: "a.stl", scaledBy: "crownHeight" }, "scan.scaledBy", "unknown-word", false],
    [{ file: "a.stl", scale: 2 }, "scan.scale", "unknown-key", false],
    [{ file: "a.stl", points: { ...points, brow: [0, 1] } }, "scan.points.brow", "wrong-type", false],
    [{ file: "a.stl", points: { ...points, brow: [0, 1, "2"] } }, "scan.points.brow.2", "wrong-type", false],
    [{ file: "a.stl", points: { brow: points.brow } }, "scan.points.leftTragion", "wrong-type", false],
    [{ file: "a.stl", points: { ...points, borw: [0, 1, 2] } }, "scan.points.borw", "unknown-key", false],
    [{ file: "a.stl", points: { ...points, brow: [1, 0, 0] } }, "scan.points", "scan-points-together", true],
    [
      { file: "a.stl", points: { ...points, leftTragion: [77, 0, 0] } },
      "scan.points",
      "scan-points-together",
      true,
    ],
  ])("refuses %j", (scan, field, id, schemaCannotTell) => {
    const found = errorsOf({ ...base, scan });
    expect(found[0]).toMatchObject({ field, id });
    if (!schemaCannotTell) expect(validate({ ...base, scan })).toBe(false);
  });

  it("is scaled by a measure that is given", () => {
    const [error] = errorsOf({
      name: "A",
      units: "mm",
      girth: 570,
      scan: { file: "a.stl", scaledBy: "breadth" },
    });
    expect(error).toMatchObject({ id: "scan-measure-missing", field: "scan.scaledBy" });
  });
});

// Repeatability limit: ISO 5725-6:1994, 4.1.4 (from memory): two readings differ by more than 2.8 standard deviations of
// one reading in 5 % of cases.
test("readings of the usual spread differ by more than the limit in one of twenty cases, and the error is right", () => {
  const seed = 20261126;
  console.log(`seed ${seed}`);
  const normal = seededNormals(seed);
  const deviation = READING_LIMITS.girth / 2.8;
  const count = 20_000;
  let differing = 0;
  let squares = 0;
  let claimed = 0;
  for (let i = 0; i < count; i++) {
    const readings = [570 + deviation * normal(), 570 + deviation * normal()];
    const { differ, mean, standardError } = summaryOfReadings("girth", readings);
    if (differ) differing++;
    squares += (mean - 570) ** 2;
    claimed += standardError ** 2;
  }
  expect(differing / count).toBeGreaterThan(0.04);
  expect(differing / count).toBeLessThan(0.056);
  const error = Math.sqrt(squares / count);
  // Claimed is never less than what is true, and not by far more.
  expect(Math.sqrt(claimed / count) / error).toBeGreaterThan(0.98);
  expect(Math.sqrt(claimed / count) / error).toBeLessThan(1.3);
});
