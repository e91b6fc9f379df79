import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { expectation } from "../../src/head/estimate";
import { buildHeadForm, completeMeasurements, measureLevel } from "../../src/head/index";
import { GREATEST_ADULT_GIRTH, LEAST_ADULT_GIRTH, SURVEY } from "../../src/head/population";

/** ANSUR II: source and licence are in the file. */
const survey = JSON.parse(readFileSync(new URL("./data/ansur2-heads.json", import.meta.url), "utf8")) as {
  rows: [number, number, number, number][];
};

describe("head forms of surveyed adults (ANSUR II, Gordon et al. 2014)", () => {
  it.each(survey.rows)(
    "girth %d, length %d, breadth %d, crown height %d: all within 0.5 mm at once",
    (...row) => {
      const [girth, length, breadth, crownHeight] = row;
      const { measurements, findings } = completeMeasurements({ girth, length, breadth, crownHeight });
      expect(findings.filter((finding) => finding.severity === "error")).toEqual([]);
      const head = buildHeadForm(measurements);
      const mesh = head.mesh();
      let top = 0;
      for (let i = 2; i < mesh.positions.length; i += 3) top = Math.max(top, mesh.positions[i]);
      const sections = Array.from({ length: 41 }, (_, i) => measureLevel(mesh, top - 60 - i)!);
      const greatest = (field: "girth" | "length" | "breadth"): number =>
        Math.max(...sections.map((section) => section[field]));
      expect(Math.abs(greatest("girth") - girth)).toBeLessThan(0.5);
      expect(Math.abs(greatest("length") - length)).toBeLessThan(0.5);
      expect(Math.abs(greatest("breadth") - breadth)).toBeLessThan(0.5);
      expect(Math.abs(top - crownHeight)).toBeLessThan(0.5);
      expect(Math.abs(head.measured.girth - girth)).toBeLessThan(0.5);
    },
  );

  it("lies between the girths of an ellipse and a rectangle: an ellipse falls 16 to 29 mm short at the means", () => {
    // Means of the full survey: men 574.37, 199.50, 154.33; women 561.12, 189.82, 147.77. The perimeter of an
    // ellipse by Ramanujan 1914.
    const ellipse = (length: number, breadth: number): number => {
      const [a, b] = [length / 2, breadth / 2];
      const h = ((a - b) / (a + b)) ** 2;
      return Math.PI * (a + b) * (1 + (3 * h) / (10 + Math.sqrt(4 - 3 * h)));
    };
    for (const [girth, length, breadth, short] of [
      [574.37, 199.5, 154.33, 16.2],
      [561.12, 189.82, 147.77, 28.7],
    ]) {
      expect(girth - ellipse(length, breadth)).toBeCloseTo(short, 0);
      const head = buildHeadForm(completeMeasurements({ girth, length, breadth }).measurements);
      expect(Math.abs(head.measured.girth - girth)).toBeLessThan(0.5);
    }
  });

  it("falls towards the crown as three scanned heads do", () => {
    // Mean shares of the greatest by depth below the crown, from level sections of head meshes with the girth 88 mm
    // below the crown; the three differ among themselves by several hundredths near the crown.
    const shares = [
      [10, 0.475, 0.525, 0.49, 0.06],
      [30, 0.755, 0.796, 0.771, 0.045],
      [50, 0.895, 0.933, 0.908, 0.03],
      [70, 0.969, 0.99, 0.975, 0.02],
      [88, 1, 1, 1, 0.002],
    ];
    const crownHeight = 129;
    const head = buildHeadForm(
      completeMeasurements({ girth: 570, length: 197, breadth: 152, crownHeight }).measurements,
    );
    const mesh = head.mesh();
    for (const [depth, length, breadth, girth, margin] of shares) {
      const section = measureLevel(mesh, crownHeight - depth)!;
      expect(Math.abs(section.length / 197 - length)).toBeLessThan(margin);
      expect(Math.abs(section.breadth / 152 - breadth)).toBeLessThan(margin);
      expect(Math.abs(section.girth / 570 - girth)).toBeLessThan(margin);
    }
  });
});

describe("estimates of missing measures", () => {
  const given = (values: Record<string, number>) => new Map(Object.entries(values)) as never;

  it("have the residual spread of the survey: 4.9 mm length, 5.0 mm breadth from girth, 5.8 mm crown height", () => {
    // ANSUR II, both sexes pooled.
    expect(expectation("length", given({ girth: 570 })).standardError).toBeCloseTo(4.9, 0);
    expect(expectation("breadth", given({ girth: 570 })).standardError).toBeCloseTo(5.0, 0);
    const crown = expectation("crownHeight", given({ girth: 570, length: 196, breadth: 152 }));
    expect(crown.standardError).toBeCloseTo(5.8, 0);
  });

  it("miss the surveyed heads by their standard error and without bias", () => {
    for (const field of ["length", "breadth", "crownHeight"] as const) {
      const column = ["girth", "length", "breadth", "crownHeight"].indexOf(field);
      const errors = survey.rows.map((row) => {
        const { value, standardError } = expectation(field, given({ girth: row[0] }));
        return (row[column] - value) / standardError;
      });
      const mean = errors.reduce((sum, e) => sum + e, 0) / errors.length;
      const spread = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length);
      // The sample holds the survey's extremes: its spread is wider than the survey's own.
      expect(Math.abs(mean)).toBeLessThan(0.5);
      expect(spread).toBeGreaterThan(0.7);
      expect(spread).toBeLessThan(1.8);
    }
  });

  it("hold the survey's own means", () => {
    // Full survey: (4082 · 574.37 + 1986 · 561.12) / 6068 = 570.03 and so on; the coefficients are of 4,046 of them.
    const mean = (men: number, women: number): number => (4082 * men + 1986 * women) / 6068;
    const of = (field: string): number => SURVEY.find((measure) => measure.field === field)!.mean;
    expect(Math.abs(of("girth") - mean(574.37, 561.12))).toBeLessThan(0.6);
    expect(Math.abs(of("length") - mean(199.5, 189.82))).toBeLessThan(0.4);
    expect(Math.abs(of("breadth") - mean(154.33, 147.77))).toBeLessThan(0.3);
    expect(Math.abs(of("crownHeight") - mean(131.15, 126.48))).toBeLessThan(0.3);
  });
});

describe("children (WHO Child Growth Standards 2007, head circumference for age)", () => {
  it("follow X = M (1 + L S Z)^(1/L) at the published percentiles, and fall below the adults' range", () => {
    // M and S of boys and girls, cm; P3 and P97 as published. L = 1. z of P3 and P97 = ∓1.881.
    for (const [m, s, p3, p97] of [
      [46.0661, 0.02789, 43.6, 48.5],
      [50.7375, 0.02943, 47.9, 53.5],
    ]) {
      const at = (z: number): number => m * (1 + s * z);
      expect(at(-1.881)).toBeCloseTo(p3, 0);
      expect(at(1.881)).toBeCloseTo(p97, 0);
      const { findings } = completeMeasurements({ girth: at(0) * 10 });
      expect(findings.map((finding) => finding.id)).toEqual(["child-size"]);
    }
    expect(LEAST_ADULT_GIRTH).toBeGreaterThan(507);
    expect(GREATEST_ADULT_GIRTH).toBeLessThan(645);
  });
});
