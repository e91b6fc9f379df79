import Ajv from "ajv";
import { describe, expect, it } from "vitest";
import limitsSchema from "../../src/build/limits.schema.json";
import { completeMeasurements, WEARER_KEYS, wearerFromDocument } from "../../src/head/index";
import schema from "../../src/head/wearer.schema.json";

const document = { name: "Marina, second siren", units: "mm", girth: 571, length: 197, breadth: 152 };

const only = (doc: unknown) => {
  const { wearer, messages } = wearerFromDocument(doc);
  const errors = messages.filter((message) => message.severity === "error");
  expect(wearer).toBeUndefined();
  expect(errors).toHaveLength(1);
  return errors[0];
};

describe("a wearer's document", () => {
  it("gives a wearer with the missing measures estimated", () => {
    const { wearer, messages } = wearerFromDocument(document);
    expect(messages).toEqual([]);
    expect(wearer?.measurements.girth).toBe(571);
    const crown = wearer?.estimated.find((estimate) => estimate.field === "crownHeight");
    expect(crown?.from).toEqual(["girth", "length", "breadth"]);
    expect(crown?.standardError).toBeGreaterThan(5.5);
    expect(wearer?.hairThickness).toBe(3);
    expect(wearer?.easeOffset).toBeCloseTo(8 / (2 * Math.PI), 9);
  });

  it("reads centimetres and inches", () => {
    expect(
      wearerFromDocument({ name: "A", units: "cm", girth: 57.1 }).wearer?.measurements.girth,
    ).toBeCloseTo(571);
    expect(
      wearerFromDocument({ name: "A", units: "in", girth: 22.5 }).wearer?.measurements.girth,
    ).toBeCloseTo(571.5);
  });

  it("reads ease either way: offset = girth ease / 2π", () => {
    expect(wearerFromDocument({ ...document, ease: { girth: 10 } }).wearer?.easeOffset).toBeCloseTo(1.59, 2);
    expect(wearerFromDocument({ ...document, ease: { offset: 2 } }).wearer?.easeOffset).toBe(2);
    expect(only({ ...document, ease: { offset: 2, girth: 10 } }).id).toBe("ease-ambiguous");
    expect(only({ ...document, ease: 10 }).field).toBe("ease");
  });

  it("takes a hat size for the girth", () => {
    const { wearer } = wearerFromDocument({
      name: "A",
      units: "mm",
      hatSize: { system: "US", size: "7 1/4" },
    });
    expect(wearer?.measurements.girth).toBeCloseTo(578.5, 1);
    expect(wearer?.estimated[0]).toMatchObject({ field: "girth", from: [] });
    expect(only({ ...document, hatSize: "58" }).id).toBe("girth-twice");
    expect(only({ name: "A", units: "mm", hatSize: "XL" }).field).toBe("hatSize");
  });

  it("names unknown keys, with the nearest known one", () => {
    expect(only({ ...document, crownHieght: 130 })).toMatchObject({
      id: "unknown-key",
      field: "crownHieght",
      suggestion: 'Did you mean "crownHeight"?',
    });
    expect(only({ ...document, ease: { grith: 8, offset: 1 } }).field).toBe("ease.grith");
  });

  it("refuses wrong types, missing and impossible values, each at its field", () => {
    expect(only({ ...document, girth: "571" })).toMatchObject({ id: "wrong-type", field: "girth" });
    expect(only({ ...document, length: Number.NaN })).toMatchObject({ field: "length" });
    expect(only({ ...document, breadth: -152 })).toMatchObject({
      id: "measure-not-positive",
      field: "breadth",
    });
    expect(only({ ...document, units: "feet" }).field).toBe("units");
    expect(only({ name: "A", units: "mm" })).toMatchObject({ id: "missing-girth", field: "girth" });
    expect(only({ units: "mm", girth: 570 }).field).toBe("name");
    expect(only([]).text).toContain("a list");
  });

  it("takes limits of fit and wear, and names wrong ones with the nearest", () => {
    const { wearer } = wearerFromDocument({
      ...document,
      units: "cm",
      girth: 57.1,
      length: 19.7,
      breadth: 15.2,
      limits: { nodForward: 40 },
    });
    expect(wearer?.limits).toEqual({ nodForward: 40 });
    expect(only({ ...document, limits: { nodForwards: 40 } })).toMatchObject({
      id: "unknown-limit",
      field: "limits.nodForwards",
      suggestion: 'did you mean "nodForward"?',
    });
    expect(only({ ...document, limits: { nodForward: "40" } }).text).toContain('"40"');
    expect(only({ ...document, limits: { nodForward: 400 } }).suggestion).toContain("from 0 to 90 °");
    expect(only({ ...document, limits: 3 }).text).toContain("group");
  });

  it("agrees with its schema on keys and on examples", () => {
    expect(Object.keys(schema.properties).sort()).toEqual([...WEARER_KEYS].sort());
    const validate = new Ajv({ strict: false }).addSchema(limitsSchema, "limits.schema.json").compile(schema);
    expect(validate(document)).toBe(true);
    expect(validate({ name: "A", units: "cm", hatSize: "US 7 1/4", ease: { offset: 1 } })).toBe(true);
    expect(validate({ ...document, hatSize: "58" })).toBe(false);
    expect(validate({ ...document, crown: 1 })).toBe(false);
    expect(validate({ ...document, limits: { nodForward: 40 } })).toBe(true);
    expect(validate({ ...document, limits: { nodForwards: 40 } })).toBe(false);
  });
});

describe("impossible and unusual measures", () => {
  const first = (given: Parameters<typeof completeMeasurements>[0], unit?: "mm" | "cm" | "in") =>
    completeMeasurements(given, unit).findings[0];

  it("names the unit mixed up", () => {
    expect(first({ girth: 57 }).text).toContain("centimetres given as millimetres");
    expect(first({ girth: 22.4 }).text).toContain("inches given as millimetres");
    expect(first({ girth: 5700 }, "cm").text).toContain("millimetres given as centimetres");
    expect(first({ girth: 570, length: 19.6 })).toMatchObject({ severity: "error", field: "length" });
  });

  it("refuses a girth that no convex outline of the length and breadth has", () => {
    // Inscribed and touching all sides of the L × B box: 2√(L² + B²) ≤ girth ≤ 2 (L + B).
    const least = 2 * Math.hypot(200, 160);
    expect(first({ girth: least - 2, length: 200, breadth: 160 })).toMatchObject({
      id: "measures-inconsistent",
      severity: "error",
      field: "girth",
    });
    expect(first({ girth: 2 * (185 + 140) + 2, length: 185, breadth: 140 }).severity).toBe("error");
    expect(first({ girth: 570, length: 150, breadth: 190 }).text).toContain("swapped");
  });

  it("warns of the unusual with its percentile, and builds", () => {
    expect(first({ girth: 631 })).toMatchObject({ id: "measure-unusual", severity: "warning" });
    expect(first({ girth: 631 }).text).toContain("99.9th percentile");
    const braided = completeMeasurements({ girth: 605, length: 190, breadth: 148 });
    expect(braided.findings.map((finding) => [finding.id, finding.severity])).toEqual([
      ["girth-unforetold", "warning"],
    ]);
    expect(braided.findings[0].suggestion).toContain("braids");
  });

  it("says of a child's girth that estimates come from adults, with the range they hold for", () => {
    const child = completeMeasurements({ girth: 500 });
    expect(child.findings).toHaveLength(1);
    expect(child.findings[0]).toMatchObject({ id: "child-size", severity: "warning", field: "girth" });
    expect(child.findings[0].text).toContain("517 mm to 630 mm");
    expect(child.measurements.length).toBeLessThan(175);
  });

  it("does not jump where adults end", () => {
    const [below, above] = [516.99, 517.01].map((girth) => completeMeasurements({ girth }).measurements);
    expect(Math.abs(below.length - above.length)).toBeLessThan(0.11);
    expect(Math.abs(below.crownHeight - above.crownHeight)).toBeLessThan(0.11);
  });
});
