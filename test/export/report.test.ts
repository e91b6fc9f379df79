import Ajv from "ajv";
import { describe, expect, it } from "vitest";
import { defaultPrinter } from "../../src/build/printerFile";
import { cautions } from "../../src/checks/cautions";
import { massProperties } from "../../src/checks/massProperties";
import { plateFit } from "../../src/checks/plateFit";
import type { Printer } from "../../src/checks/printer";
import { composeReport, type Report, type ReportInput, reportJson } from "../../src/export/report";
import schema from "../../src/export/report.schema.json";
import { reportMarkdown } from "../../src/export/reportMarkdown";
import { reportText } from "../../src/export/reportText";
import { filamentLength } from "../../src/print/layers/filamentLength";
import type { PrintedMass } from "../../src/print/layers/printedMass";
import { defaultPrintSettings } from "../../src/printSettings";
import { torus } from "../checks/shapes";

const material = {
  name: "PLA",
  density: 1.24,
  softening: [55, 65] as const,
  strength: 37,
  modulus: 2.3,
  spool: 1000,
};
const print = { ...defaultPrintSettings, shells: 3, lineWidth: 0.42, infill: 15 };
const ring = torus(80, 5, 120, 32);
const bench: Printer = {
  ...defaultPrinter,
  name: "Workshop 220",
  plate: { shape: "rectangular", width: 220, depth: 220 },
  height: 250,
  nozzle: 0.4,
  filamentDiameter: 1.75,
};
const kiln: Printer = { ...bench, name: "Round 150", plate: { shape: "round", diameter: 150 }, height: 120 };

const plates = [bench, kiln].map((printer) => ({ printer, fit: plateFit(ring.positions, printer) }));

function input(): ReportInput {
  const body = massProperties(ring);
  const solid = (body.volume / 1000) * material.density;
  const mass: PrintedMass = {
    solid,
    printed: 0.6 * solid,
    filament: filamentLength(0.6 * solid, material.density, 1.75),
    basis: "From 50 layers of 0.2 mm: 3 shells of 0.42 mm.",
  };
  return {
    headpiece: "Foam ring",
    wearer: {
      name: "Maren of the Shoals",
      measures: {
        girth: { value: 561.04, source: "given", onHead: 561.02 },
        length: { value: 190.26, source: "estimated", standardError: 4.91, onHead: 190.3 },
        breadth: { value: 148.44, source: "scanned", onHead: 148.4 },
      },
    },
    ease: { offset: 1.5915, hair: 3 },
    parameters: [
      { name: "reach", value: 90, unit: "mm", default: 80 },
      { name: "woven", value: true, unit: "", default: true },
    ],
    material,
    print,
    body,
    mass,
    filamentDiameter: 1.75,
    solid: {
      closed: true,
      pieces: 1,
      voids: 0,
      triangles: ring.triangles.length / 3,
      crumbs: { count: 2, volume: 0.4321 },
    },
    plates,
    parts: [
      { name: "ring", kind: "tube", length: 502.654, volume: 30_000 },
      { name: "pearl | left", kind: "solid", volume: 10_000 },
    ],
    messages: [
      {
        text: "2 crumbs were left out",
        severity: "note",
        id: "crumbs-dropped",
        file: "foam.headpiece.ts",
        line: 4,
        column: 3,
        suggestion: undefined,
      },
    ],
    cautions: cautions({ material, mass: mass.printed }),
  };
}

const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile(schema);

describe("composeReport", () => {
  const report = composeReport(input());

  it("holds the measures in the units that its keys name", () => {
    // Pappus: 2π²·80·25 mm³ and 4π²·80·5 mm², less what the facets cut off.
    expect(report.volumeCm3).toBeCloseTo(39.48, 0);
    expect(report.areaCm2).toBeCloseTo(157.9, 0);
    expect(report.massSolidG / (report.volumeCm3 * 1.24)).toBeCloseTo(1, 2);
    expect(report.boxMm).toEqual({ width: 170, depth: 170, height: 10 });
    expect(report.centreOfMassMm).toEqual({ right: 0, forward: 0, up: 0 });
    expect(report.girthEaseMm).toBe(10);
    expect(report.parameters.map((p) => p.changed)).toEqual([true, false]);
    expect(report.head.length).toEqual({
      valueMm: 190.3,
      source: "estimated",
      standardErrorMm: 4.9,
      onHeadMm: 190.3,
    });
  });

  it("shares the mass out over the parts", () => {
    expect(report.parts.map((part) => part.share)).toEqual([0.75, 0.25]);
    expect(report.parts[0].massPrintedG).toBeCloseTo(0.75 * report.massPrintedG, 1);
    expect(report.parts[0].lengthMm).toBe(502.7);
    expect("lengthMm" in report.parts[1]).toBe(false);
  });

  it("keeps a volume to one part in ten thousand however small", () => {
    const tiny = { ...input(), body: { ...massProperties(ring), volume: 1234.5678 } };
    expect(composeReport(tiny).volumeCm3).toBe(1.23457);
  });

  it("fits its schema, and the schema tells a foreign or a missing key", () => {
    expect(validate(JSON.parse(reportJson(report))), JSON.stringify(validate.errors)).toBe(true);
    expect(validate({ ...report, made: "today" })).toBe(false);
    const { pieces, ...without } = report;
    expect(pieces).toBe(1);
    expect(validate(without)).toBe(false);
    expect(validate({ ...report, volumeCm3: -1 })).toBe(false);
  });

  it("reads the same twice and shows one changed value as one changed line", () => {
    const text = reportJson(report);
    expect(text).toBe(reportJson(composeReport(input())));
    expect(text.endsWith("}\n")).toBe(true);
    expect(JSON.parse(text)).toEqual(report);
    const changed = reportJson({ ...report, massPrintedG: report.massPrintedG + 1 }).split("\n");
    expect(text.split("\n").filter((line, i) => line !== changed[i])).toHaveLength(1);
  });

  it("gives messages their keys in one order", () => {
    expect(Object.keys(report.messages[0])).toEqual(["id", "severity", "text", "file", "line", "column"]);
  });
});

describe("reportText", () => {
  const report = composeReport(input());
  const text = reportText(report, { colour: false });

  it("says first whether it can be made, then mass and size", () => {
    const order = [
      "closed, 1 piece",
      "fits as designed, 50 mm to spare in",
      "g printed",
      "170 × 170 × 10 mm",
      "Take care",
    ];
    const places = order.map((words) => text.indexOf(words));
    expect(
      places.every((place) => place >= 0),
      text,
    ).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(text).toMatch(/too large by \d+(\.\d)? mm in diameter/);
    expect(text).toContain("190.3 mm, estimated ± 4.9");
    expect(text).toContain("148.4 mm, on the scan");
    expect(text).toContain("costume, not protective equipment");
  });

  it("is plain without colour and the same text with it", () => {
    const mark = String.fromCharCode(27);
    expect(text).not.toContain(mark);
    const coloured = reportText(report, { colour: true });
    expect(coloured).toContain(mark);
    expect(
      coloured
        .split(mark)
        .map((piece, i) => (i === 0 ? piece : piece.replace(/^\[\d+m/, "")))
        .join(""),
    ).toBe(text);
  });

  it("shows the heaviest parts of many and says how many more there are", () => {
    const parts = Array.from({ length: 40 }, (_, i) => ({
      ...report.parts[0],
      name: `reed ${i}`,
      share: i / 780,
    }));
    const long = reportText({ ...report, parts }, { colour: false });
    expect(long).toContain("reed 39");
    expect(long).not.toContain("reed 3 ");
    expect(long).toContain("and 28 more");
  });
});

describe("reportMarkdown", () => {
  const markdown = reportMarkdown(composeReport(input()));

  it("has all parts, plates and cautions, and keeps table cells whole", () => {
    expect(markdown.startsWith("# Foam ring for Maren of the Shoals\n")).toBe(true);
    expect(markdown).toContain("pearl \\| left");
    expect(markdown).toContain("Round 150");
    for (const row of markdown.split("\n").filter((line) => line.startsWith("| pearl"))) {
      expect(row.replace(/\\\|/g, "").split("|")).toHaveLength(7);
    }
    expect(markdown.match(/^- .*/gm)?.length).toBe(1 + composeReport(input()).cautions.length);
  });
});

describe("a report with errors", () => {
  it("says so plainly", () => {
    const broken: Report = { ...composeReport(input()), closed: false, pieces: 3 };
    expect(reportText(broken, { colour: false })).toContain("not closed, 3 pieces");
    expect(reportMarkdown(broken)).toContain("**not closed**");
  });
});
