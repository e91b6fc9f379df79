import Ajv from "ajv";
import { describe, expect, it } from "vitest";
import { composePlan, type ReportPlan } from "../../src/export/planReport";
import { orientationFigures } from "../../src/export/planSentences";
import schema from "../../src/export/report.schema.json";
import { pathKinds, timeKinds } from "../../src/print/layers/layerPlan";
import { printSettingNames } from "../../src/printSettings";
import { antlers, mastParts, planned, stepsOf } from "./plannedPieces";

const { job, plan } = await planned(mastParts);
const report = composePlan(plan, job);
const withProps = composePlan((await planned(mastParts, {}, { proposals: "printed" })).plan, job);
const cut = await planned(antlers);
const inPieces = composePlan(cut.plan, cut.job);

/** The plan's own part of the report's schema. */
const validate = new Ajv({ strict: true, allErrors: true, allowUnionTypes: true }).compile({
  ...schema.properties.plan,
  definitions: schema.definitions,
});
const plain = <T>(value: T): T => JSON.parse(JSON.stringify(value)) as T;

/** Every object in a value, itself first, each by a path of keys. */
function* objectsIn(
  value: unknown,
  path: readonly string[] = [],
): Generator<readonly [object, readonly string[]]> {
  if (typeof value !== "object" || value === null) return;
  if (!Array.isArray(value)) yield [value, path];
  for (const [key, inner] of Object.entries(value)) yield* objectsIn(inner, [...path, key]);
}

function* numbersIn(value: unknown, path = ""): Generator<readonly [number, string]> {
  if (typeof value === "number") yield [value, path];
  if (typeof value !== "object" || value === null) return;
  for (const [key, inner] of Object.entries(value)) yield* numbersIn(inner, `${path}.${key}`);
}

const sum = (values: Iterable<number>): number => [...values].reduce((total, value) => total + value, 0);

describe("a plan as a report has it", () => {
  it("holds the plan's figures, rounded", () => {
    const { totals } = plan;
    expect(report).toMatchObject({
      printer: "Hall printer",
      material: "PLA",
      settingsName: "the design's own",
      currency: "€",
      spools: totals.spools,
      directionsCompared: plan.search!.compared,
    });
    expect(report.hours).toBeCloseTo(totals.hours, 2);
    expect(report.grams).toBeCloseTo(totals.grams, 1);
    expect(report.price).toBeCloseTo(totals.price!, 2);
    expect(report.weakestArm).toEqual({ part: "yard", factor: 2.23 });
    expect(report.orientation).toEqual({
      choice: "as designed",
      tiltDegrees: 0,
      towardsDegrees: 0,
      turnDegrees: 0,
      words: "upright",
      fits: true,
    });
    // A quarter more: common practice, no source.
    expect(report.hoursMost).toBeCloseTo(1.25 * totals.hours, 2);
    expect(report.hoursBasis).toContain("common practice, no source");
  });

  it("gives no number more digits than it can stand for", () => {
    for (const [value, path] of numbersIn({ ...report, settings: {}, findings: [] })) {
      expect(Number(value.toFixed(3)), path).toBe(value);
      expect(Object.is(value, -0), path).toBe(false);
    }
  });

  it("adds up: hours and grams by kind, the piece and what is thrown away, metres of its grams", () => {
    const [plate] = report.plates;
    expect(report.plates).toHaveLength(1);
    const { hoursByKind, gramsByKind, startHours } = plate;
    expect(sum(Object.values(hoursByKind)) + startHours).toBeCloseTo(report.hours, 1);
    expect(Math.abs(sum(Object.values(gramsByKind)) - report.grams)).toBeLessThan(0.05 * pathKinds.length);
    expect(report.pieceGrams).toBeLessThan(report.grams);
    expect(gramsByKind.support + gramsByKind.contact).toBeGreaterThan(0);
    // A thread of 1.75 mm of 1.24 g/cm³: 1 g is 1000 / (1.24 · π/4 · 1.75²) mm long.
    const perGram = 1 / (1.24 * (Math.PI / 4) * 1.75 ** 2);
    expect(report.metres).toBeCloseTo(plan.totals.grams * perGram, 1);
    // 22 € a kilogram and 0.50 € an hour.
    expect(report.price).toBeCloseTo(0.022 * plan.totals.grams + 0.5 * plan.totals.hours, 2);
  });

  it("counts layers and spools from 1, and says where each spool ends", () => {
    const [{ spoolEnds, layers, heightMm }] = report.plates;
    expect(spoolEnds.map(({ spool }) => spool)).toEqual(spoolEnds.map((_, i) => i + 1));
    expect(spoolEnds.length).toBe(Math.ceil(plan.totals.grams / 10) - 1);
    for (const { layer, heightMm: height } of spoolEnds) {
      expect(layer).toBeGreaterThanOrEqual(1);
      expect(layer).toBeLessThanOrEqual(layers);
      expect(height).toBeCloseTo(0.2 * layer, 6);
    }
    expect(heightMm).toBeCloseTo(0.2 * layers, 6);
  });

  it("names what causes supports and the column that may fail, with what props would change", () => {
    expect(report.supports.parts[0].part).toBe("yard");
    expect(report.supports.thinColumns).toHaveLength(1);
    const [thin] = report.supports.thinColumns;
    expect(thin.parts).toEqual(["yard"]);
    // From the plate to the yard's lowest line at 83.5 mm, less the gap of 0.2 mm.
    expect(thin.heightMm).toBeGreaterThan(80);
    expect(thin.heightMm).toBeLessThan(83.6);
    expect(report.props).toBeUndefined();
    const { proposed } = report;
    expect(proposed).toMatchObject({ thinColumnsBefore: 1, thinColumnsAfter: 0 });
    expect(sum(proposed!.parts.map(({ necks }) => necks))).toBe(proposed!.count);
    expect(proposed!.parts.map(({ part }) => part)).toEqual(["yard"]);
    // Printed with them: hours and grams are those that were foretold, the piece itself weighs the same.
    expect(withProps).toMatchObject({ hours: proposed!.hours, grams: proposed!.grams });
    expect(withProps.props).toMatchObject({ count: proposed!.count, thinColumnsAfter: 0 });
    expect(withProps.pieceGrams).toBe(report.pieceGrams);
    expect(withProps.supports.thinColumns).toEqual([]);
  });

  it("tells the ways up, as designed first, one of them chosen, each name once", () => {
    const { orientations } = report;
    expect(orientations.length).toBeGreaterThan(1);
    expect(orientations.map(({ isAsDesigned }) => isAsDesigned)).toEqual(orientations.map((_, i) => i === 0));
    expect(orientations.filter(({ isChosen }) => isChosen)).toEqual([orientations[0]]);
    const names = orientations.flatMap((one) => one.names);
    expect(new Set(names).size).toBe(names.length);
    expect(names).toContain("best of all");
    // The way up that is planned has the plan's hours, not those of the search.
    expect(orientations[0].hours).toBeCloseTo(report.hours, 1);
  });

  it("gives findings their keys in one order, and their files as it is told to", () => {
    const moved = composePlan(
      plan,
      job,
      plan.findings.map((finding) => ({ ...finding, file: "tide.headpiece.ts" })),
    );
    expect(moved.findings).toHaveLength(plan.findings.length);
    for (const finding of moved.findings) {
      expect(Object.keys(finding).slice(0, 3)).toEqual(["id", "topic", "severity"]);
      expect(finding.file).toBe("tide.headpiece.ts");
    }
    const ids = report.findings.map(({ id }) => id);
    expect(ids).toContain("spool-ends");
    expect(ids).toContain("props-proposed");
    expect(report.findings.find(({ id }) => id.startsWith("support-"))).toMatchObject({
      severity: "warning",
      part: "yard",
      line: 7,
    });
    expect(report.findings.find(({ id }) => id === "spool-ends")).toMatchObject({ line: 2 });
  });

  it("is the same twice, to the last letter", () => {
    expect(JSON.stringify(composePlan(stepsOf(job).at(-1)!, job))).toBe(JSON.stringify(report));
  });

  it("grows: each step has what the one before had", () => {
    const steps = stepsOf(job).map((step) => composePlan(step, job));
    expect(steps[0].orientations).toEqual([]);
    expect(steps[0].hours).toBe(report.hours);
    expect(steps[0].supports).toEqual(report.supports);
    expect(steps.at(-1)!.orientations.length).toBeGreaterThan(1);
    for (const step of steps) expect(validate(plain(step)), JSON.stringify(validate.errors)).toBe(true);
  });
});

describe("a piece that is cut", () => {
  it("tells pieces, joints and plates, whose sums are the plan's", () => {
    const { pieces, plates, hours, grams, orientation } = inPieces;
    expect(orientation.fits).toBe(false);
    expect(pieces!.pieces.length).toBeGreaterThan(1);
    expect(pieces!.pieces.every(({ fits }) => fits)).toBe(true);
    for (const { sizeMm } of pieces!.pieces) {
      expect(sizeMm[2]).toBeLessThanOrEqual(250);
      expect(Math.min(sizeMm[0], sizeMm[1])).toBeLessThanOrEqual(220);
    }
    expect(Math.max(...pieces!.pieces.map(({ plate }) => plate))).toBe(plates.length);
    expect(sum(plates.map((plate) => plate.hours))).toBeCloseTo(hours, 1);
    expect(Math.abs(sum(plates.map((plate) => plate.grams)) - grams)).toBeLessThan(
      0.05 * plates.length + 0.05,
    );
    expect(pieces!.joints).toHaveLength(pieces!.pieces.length - 1);
    expect(pieces!.assembly).toHaveLength(pieces!.pieces.length - 1);
    expect(pieces!.assembly[0]).toMatch(/^[A-Z], .*: push it on [A-Z], .*; glue its faces and pins/);
    const volume = sum(pieces!.pieces.map(({ volumeCm3 }) => volumeCm3));
    expect(volume).toBeCloseTo(pieces!.piecesCm3, 2);
    const { wholeCm3, pegsCm3, socketsCm3, piecesCm3 } = pieces!;
    expect(Math.abs(piecesCm3 - (wholeCm3 + pegsCm3 - socketsCm3))).toBeLessThan(1e-3 * wholeCm3);
  });

  it("reckons scars and strength as it is printed, not as the whole would stand", () => {
    const { contactCm2, landingCm2 } = inPieces.supports;
    expect(inPieces.finishing!.scarCm2).toBeCloseTo(contactCm2 + landingCm2, 0);
    expect(inPieces.weakestArm).toBeUndefined();
  });
});

describe("figures of ways up side by side", () => {
  const orientations: ReportPlan["orientations"] = [
    ...report.orientations,
    { ...report.orientations[0], names: ["lowest"], hours: 0.1, supportCm3: 0, heightMm: 1, fits: false },
  ];
  const figures = orientationFigures({ orientations });

  it("marks the best of those that fit, and none where all are alike", () => {
    const keys = {
      Hours: ["hours", "least"],
      Supports: ["supportCm3", "least"],
      Scars: ["contactCm2", "least"],
      Height: ["heightMm", "least"],
      "On the plate": ["footprintCm2", "most"],
      "Thin columns": ["thinColumns", "least"],
      "Weakest arm": ["weakestFactor", "most"],
    } as const;
    for (const [label, [key, which]] of Object.entries(keys)) {
      const values = orientations.filter(({ fits }) => fits).map((one) => one[key] as number);
      const best = [...values].sort((a, b) => (which === "least" ? a - b : b - a))[0];
      const areAlike = values.every((value) => value === best);
      orientations.forEach((one, i) => {
        const figure = figures[i].find((each) => each.label === label)!;
        expect(figure.isBest, `${label} of ${one.names}`).toBe(one.fits && one[key] === best && !areAlike);
      });
    }
    expect(figures.flat().filter(({ isBest }) => isBest).length).toBeGreaterThan(3);
    expect(figures.at(-1)!.at(-1)).toEqual({ label: "Plate", value: "does not fit", isBest: false });
  });

  it("marks nothing where there is nothing to compare with", () => {
    const [alone] = orientationFigures({ orientations: orientations.slice(0, 1) });
    expect(alone.some(({ isBest }) => isBest)).toBe(false);
  });
});

describe("the report's schema", () => {
  it("takes plans of every kind", () => {
    for (const one of [report, withProps, inPieces]) {
      expect(validate(plain(one)), JSON.stringify(validate.errors)).toBe(true);
    }
  });

  it("tells a foreign key, wherever it stands, and a plan without a figure", () => {
    for (const whole of [report, inPieces]) {
      for (const [, path] of objectsIn(whole)) {
        const copy = plain(whole);
        let place: unknown = copy;
        for (const key of path) place = (place as Record<string, unknown>)[key];
        Object.assign(place as object, { made: "today" });
        expect(validate(copy), path.join(".")).toBe(false);
      }
      for (const key of ["hours", "plates", "supports", "orientations", "findings"] as const) {
        const { [key]: _, ...without } = plain(whole);
        expect(validate(without), key).toBe(false);
      }
    }
  });

  it("names every print setting and every kind that the plan does", () => {
    const { settings, plates } = schema.properties.plan.properties;
    expect(Object.keys(settings.properties)).toEqual(printSettingNames);
    expect(settings.required).toEqual(printSettingNames);
    const { hoursByKind, gramsByKind } = plates.items.properties;
    expect(hoursByKind.required).toEqual([...timeKinds]);
    expect(gramsByKind.required).toEqual([...pathKinds]);
  });
});
