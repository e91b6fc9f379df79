import Ajv from "ajv";
import { describe, expect, it } from "vitest";
import { type Wear, wear } from "../../src/checks/wear";
import schema from "../../src/export/report.schema.json";
import { wearBlocks } from "../../src/export/wearMarkdown";
import { composeWear } from "../../src/export/wearReport";
import { wearLines, withUnit } from "../../src/export/wearSentences";
import { limitsOf } from "../../src/wearLimits";
import { box, moved, torus } from "../checks/shapes";
import { formOf, headOf, pieceOf } from "../checks/wornBodies";

const head = headOf(undefined, { ease: 1.3, hair: 3, hairPressed: 2 }, formOf());
const limits = limitsOf({ wearer: { massAdvised: 5 } });
/** A ring that hovers over the brow and a beam before the eyes. */
const found: Wear = wear(
  pieceOf([moved(torus(100, 6, 60, 16), [0, 0, 50]), box([-60, 104, 0], [60, 110, 30])]),
  head,
  limits,
);
const report = composeWear(found);

describe("fit and wear in a report", () => {
  const validate = new Ajv({ strict: false }).compile({
    ...schema.properties.wear,
    definitions: schema.definitions,
  });

  it("is as its schema says, with every number rounded, and the same each time", () => {
    expect(validate(report), JSON.stringify(validate.errors)).toBe(true);
    expect(composeWear(found)).toEqual(report);
    JSON.stringify(report, (_, value) => {
      if (typeof value === "number") expect(Number(value.toFixed(3))).toBe(value);
      return value;
    });
  });

  it("has the verdict, its reasons, what was found with its limit, and who set limits", () => {
    expect(report.reasons).toEqual(found.verdict.reasons);
    expect(report.limitsSet).toEqual({ massAdvised: { value: 5, by: "wearer" } });
    const heavy = report.findings.find(({ id }) => id === "heavy");
    expect(heavy?.limit).toEqual({ name: "massAdvised", value: 5, source: "set by the wearer" });
    expect(Object.keys(heavy ?? {})).toEqual([
      "id",
      "check",
      "severity",
      "text",
      "suggestion",
      "value",
      "unit",
      "limit",
      "at",
    ]);
  });

  it("answers that could not be had are absent, and the rest stands", () => {
    const { sight: _, ...answers } = found.answers;
    const without = composeWear({ ...found, answers });
    expect(without.sight).toBeUndefined();
    expect(validate(without)).toBe(true);
    expect(wearLines(without).map(({ check }) => check)).not.toContain("sight");
  });

  it("has a line for each question, in the order of the questions, with the tone of its gravest finding", () => {
    const lines = wearLines(report);
    expect(lines.map(({ check }) => check)).toEqual([
      "gap",
      "wayOn",
      "stayOn",
      "sureness",
      "weight",
      "sight",
      "sharp",
      "strength",
      "heat",
    ]);
    expect(lines.find(({ check }) => check === "weight")?.tone).toBe("warning");
    for (const { value } of lines) expect(value).not.toMatch(/undefined|NaN/);
  });

  it("writes numbers with their units", () => {
    expect([withUnit(30, "°"), withUnit(1.5, "mm"), withUnit(2)]).toEqual(["30°", "1.5 mm", "2"]);
  });

  it("as Markdown begins with the verdict and has the figures in tables", () => {
    const blocks = wearBlocks(report);
    expect(blocks[0]).toMatch(/^## (Adjust first|Don't wear)$/);
    const text = blocks.join("\n\n");
    expect(text).toContain("| bare head |");
    expect(text).toContain("### Ways on");
    expect(text).toContain("set by the wearer");
    expect(text).toContain("trained adults");
    expect(text).not.toMatch(/undefined|NaN/);
  });
});
