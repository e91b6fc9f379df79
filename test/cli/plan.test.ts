import { existsSync, readdirSync, readFileSync } from "node:fs";
import { basename } from "node:path";
import Ajv from "ajv";
import type { Mesh } from "three";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { ReportPlan } from "../../src/export/planReport";
import reportSchema from "../../src/export/report.schema.json";
import { readStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import { readByThree } from "../export/threeMfReading";
import { CommandLine, designText, wearerText } from "./commandLine";

let line: CommandLine;
beforeAll(async () => {
  line = await CommandLine.create();
  line.write("marin.wearer.json", wearerText);
  line.write("quick.print.json", JSON.stringify({ name: "Quick", layerHeight: 0.3, shells: 2, infill: 5 }));
  line.write("fine.print.json", JSON.stringify({ name: "Fine", layerHeight: 0.15, infill: 20 }));
  const plate = (width: number, height: number) =>
    JSON.stringify({
      name: `Plate of ${width}`,
      plate: { shape: "rectangular", width, depth: width },
      height,
      nozzle: 0.4,
      pricePerHour: 0.5,
    });
  line.write("small.printer.json", plate(150, 250));
  line.write("plain.printer.json", plate(300, 300));
  line.write(
    "priced.material.json",
    JSON.stringify({
      name: "PLA",
      density: 1.24,
      softening: [55, 65],
      strength: 37,
      modulus: 2.3,
      spool: 30,
      pricePerKilogram: 22,
      currency: "€",
    }),
  );
}, 120_000);
afterAll(() => line.remove());
beforeEach(() => {
  line.write("ring.headpiece.ts", designText());
});

/** A ring with a rod that stands off it, far over the plate, and thin: a thin column of support. */
const withRod = (props = "") =>
  designText({
    part: `tube("rod", [[0, 60, 150], [0, 150, 150]], { radius: 1.5 }), tube("mast", [ring.atAzimuth(0), [0, 70, 150]], { radius: 5 }), ${props}`,
  }).replace("band, count", "band, count, prop");

const plan = async (...options: string[]) => {
  const { code, out, err } = await line.run(["plan", "ring.headpiece.ts", "--json", ...options]);
  const told = JSON.parse(out);
  return { code, err, told, plan: told.report?.plan as ReportPlan };
};

describe("anadem plan", () => {
  test("to be read: hours first, then the ways up, the basis, the cautions; nothing is written", async () => {
    const { code, out, err } = await line.run(["plan", "ring.headpiece.ts"]);
    expect({ code, err }).toEqual({ code: 0, err: "" });
    const places = ["Tide ring for Marin", "Hours", "Filament", "Spools", "Way up", "Ways up, the best of"];
    const found = [...places, "common practice, no source", "Take care"].map((words) => out.indexOf(words));
    expect(
      found.every((place) => place >= 0),
      out,
    ).toBe(true);
    expect(out).toMatch(/the best of (\d{3,}) directions/);
    expect(out).toContain("costume, not protective equipment");
    expect(existsSync(line.path("out"))).toBe(false);
  });

  test("--json: one object, whose report is as its schema says and weighs what the plan does", async () => {
    const { code, told, plan: its } = await plan();
    expect(code).toBe(0);
    expect(Object.keys(told)).toEqual(["ok", "messages", "report", "files"]);
    expect(told).toMatchObject({ ok: true, files: [] });
    const validate = new Ajv({ strict: false, allErrors: true }).compile(reportSchema);
    expect(validate(told.report), JSON.stringify(validate.errors)).toBe(true);
    expect(its.directionsCompared).toBeGreaterThanOrEqual(500);
    expect(told.report.massPrintedG).toBeCloseTo(its.pieceGrams, 0);
    expect(its.grams).toBeGreaterThanOrEqual(its.pieceGrams);
    expect(its.orientation).toMatchObject({ choice: "as designed", fits: true });
  });

  test("is in the help, with its options", async () => {
    expect((await line.run(["--help"])).out).toMatch(/plan DESIGN\s+plans the print/);
    const { out } = await line.run(["plan", "--help"]);
    for (const option of ["--print", "--orientation", "--props", "--what-if", "--wish", "--out", "--json"]) {
      expect(out).toContain(option);
    }
  });

  test("a design with a fault: exit code 1, the fault at its line, no plan", async () => {
    line.write(
      "ring.headpiece.ts",
      designText({ part: 'tube("loose", [[0, 0, 400], [0, 0, 430]], { radius: 4 }),' }),
    );
    const { code, told } = await plan();
    expect(code).toBe(1);
    expect(told).toMatchObject({ ok: false, report: null });
    expect(told.messages[0]).toMatchObject({ id: "loose-piece", severity: "error" });
  });
});

describe("--orientation", () => {
  test("takes words and angles, which go before the design's own", async () => {
    const given = await plan("--orientation", "90,180,0");
    expect(given.plan.orientation).toMatchObject({ choice: "given", tiltDegrees: 90, towardsDegrees: 180 });
    expect(given.plan.orientation.words).toMatch(/^lying/);
    const chosen = given.plan.orientations.filter(({ isChosen }) => isChosen);
    expect(chosen.map(({ names }) => names)).toEqual([expect.arrayContaining(["as given"])]);
    const best = await plan("--orientation", "best");
    expect(best.plan.orientation.choice).toBe("best");
    const bestOne = best.plan.orientations.find(({ names }) => names.includes("best of all"))!;
    expect(bestOne.isChosen).toBe(true);
    expect(bestOne.tiltDegrees).toBe(best.plan.orientation.tiltDegrees);
  });

  test.each(["sideways", " ", "200", "1,2,3,4", "35,,10", "NaN", "-5"])("refuses %j", async (way) => {
    const { code, err } = await line.run(["plan", "ring.headpiece.ts", `--orientation=${way}`]);
    expect(code).toBe(2);
    expect(err).toContain(`--orientation is "${way}"`);
    expect(err).toContain("35,180,0");
  });
});

describe("print settings", () => {
  test("given more than once stand side by side, the first as the plan", async () => {
    const both = ["--print", "quick.print.json", "--print", "fine.print.json"];
    const { code, told, plan: its } = await plan(...both);
    expect(code).toBe(0);
    expect(its).toMatchObject({
      settingsName: "Quick",
      settings: { layerHeight: 0.3, shells: 2, infill: 5 },
    });
    const [quick, fine] = told.comparisons as { name: string; plan: ReportPlan }[];
    expect([quick.name, fine.name]).toEqual(["Quick", "Fine"]);
    expect(quick.plan).toEqual(its);
    expect(fine.plan.hours).toBeGreaterThan(quick.plan.hours);
    expect(fine.plan.grams).toBeGreaterThan(quick.plan.grams);
    const { out } = await line.run(["plan", "ring.headpiece.ts", ...both]);
    expect(out).toMatch(/Print settings side by side\n.*hours.*\n\s+Quick .*\n\s+Fine /);
    const alone = await plan("--print", "fine.print.json");
    expect(alone.plan).toEqual(fine.plan);
    expect(alone.told.comparisons).toBeUndefined();
  });

  test("of a file that is not there: wrong use; with a wrong value: told at its line", async () => {
    for (const files of [["no.print.json"], ["quick.print.json", "no.print.json"]]) {
      const { code, err } = await line.run([
        "plan",
        "ring.headpiece.ts",
        ...files.flatMap((file) => ["--print", file]),
      ]);
      expect(code).toBe(2);
      expect(err).toContain("no.print.json");
    }
    line.write("odd.print.json", '{\n  "name": "Odd",\n  "layerHeigth": 0.2\n}');
    const { code, told } = await plan("--print", "odd.print.json");
    expect(code).toBe(1);
    expect(told.messages[0]).toMatchObject({ severity: "error", line: 3 });
    expect(told.messages[0].suggestion).toContain("layerHeight");
  });
});

describe("what would change it", () => {
  test("--what-if: the plan as it is set up among others, some of them quicker", async () => {
    const { code, told, plan: its } = await plan("--what-if", "--material", "priced.material.json");
    expect(code).toBe(0);
    const { rows } = told.whatIf;
    const base = rows.find(({ kind }: { kind: string }) => kind === "base");
    expect(rows.length).toBeGreaterThan(5);
    // The same way of reckoning: hours and mass of that row are the plan's.
    expect(base.figures.hours / its.hours).toBeCloseTo(1, 1);
    expect(base.figures.grams / its.grams).toBeCloseTo(1, 1);
    expect(
      rows.some(({ figures }: { figures: { hours: number } }) => figures.hours < base.figures.hours),
    ).toBe(true);
    const { out } = await line.run([
      "plan",
      "ring.headpiece.ts",
      "--what-if",
      "--material",
      "priced.material.json",
    ]);
    expect(out).toMatch(/What if\n.*hours.*price.*spools/);
    expect(out).toContain("› as set up");
  });

  test("--wish: met, with exit code 0, and what to write where something changes", async () => {
    const easy = await plan("--wish", "under 1000 h, under 5 kg");
    expect(easy.code).toBe(0);
    expect(easy.told.wish).toMatchObject({ outcome: "met", choice: { line: "" } });
    const { hours } = easy.plan;
    const less = await plan("--wish", `under ${(0.9 * hours).toFixed(2)} h`);
    expect(less).toMatchObject({ code: 0, told: { ok: true, wish: { outcome: "met" } } });
    const { choice } = less.told.wish;
    expect(choice.figures.hours).toBeLessThan(0.9 * hours);
    expect(choice.line).toMatch(/^print: \{/);
    // Written into the design, it is met by the plan itself.
    line.write(
      "ring.headpiece.ts",
      designText().replace('name: "Tide ring",', `name: "Tide ring", ${choice.line},`),
    );
    const written = await plan();
    expect(written.code).toBe(0);
    expect(written.plan.hours / choice.figures.hours).toBeCloseTo(1, 1);
  });

  test("--wish: impossible, with exit code 1, what comes nearest and what else could help", async () => {
    const { code, told, plan: its } = await plan("--wish", "under 1 g");
    expect(code).toBe(1);
    expect(told.ok).toBe(false);
    expect(told.wish).toMatchObject({ outcome: "impossible" });
    expect(told.wish.choice.figures.grams).toBeLessThan(its.grams);
    expect(told.wish.missed[0].value).toBe(told.wish.choice.figures.grams);
    expect(told.wish.remedies.length).toBeGreaterThan(0);
    const { code: same, out } = await line.run(["plan", "ring.headpiece.ts", "--wish", "under 1 g"]);
    expect(same).toBe(1);
    expect(out).toContain("Wish: ");
  });

  test.each([
    ["soon please", "understood"],
    [" ", "empty"],
    ["over 60 h", "from above"],
  ])("--wish %j is wrong use, and nothing is built", async (wish, why) => {
    const { code, out, err } = await line.run(["plan", "ring.headpiece.ts", `--wish=${wish}`]);
    expect(code).toBe(2);
    expect(err).toContain("--wish:");
    expect(err).toContain(why);
    expect(out).toBe("");
  });
});

describe("props", () => {
  test("are proposed for the thin column under a rod, and printed with --props", async () => {
    line.write("ring.headpiece.ts", withRod());
    const told = await plan("--printer", "plain.printer.json");
    expect(told.plan.supports.thinColumns.some(({ parts }) => parts.includes("rod"))).toBe(true);
    expect(told.plan.props).toBeUndefined();
    expect(told.plan.proposed!.thinColumnsAfter).toBeLessThan(told.plan.proposed!.thinColumnsBefore);
    const printed = await plan("--printer", "plain.printer.json", "--props");
    expect(printed.code).toBe(0);
    expect(printed.plan.props!.count).toBe(told.plan.proposed!.count);
    expect(printed.plan.supports.thinColumns.some(({ parts }) => parts.includes("rod"))).toBe(false);
    expect(printed.plan).toMatchObject({
      hours: told.plan.proposed!.hours,
      grams: told.plan.proposed!.grams,
    });
    expect(printed.plan.pieceGrams).toBe(told.plan.pieceGrams);
  });

  test("of the design are printed beside the piece, in a body of their own", async () => {
    line.write("ring.headpiece.ts", withRod('prop("under the rod", [0, 140, 150]),'));
    const { code, plan: its, told } = await plan("--printer", "plain.printer.json", "--out", "propped");
    expect(code).toBe(0);
    expect(its.props!.parts).toContainEqual({ part: "rod", necks: 1, proposed: 0 });
    // The prop is no part of what is worn.
    expect(told.report.parts.map(({ name }: { name: string }) => name)).not.toContain("under the rod");
    const bodies: string[] = [];
    readByThree(readFileSync(line.path("propped/ring.plate.3mf"))).traverse((node) => {
      if ((node as Mesh).isMesh) bodies.push(node.name || node.parent!.name);
    });
    expect(bodies).toHaveLength(2);
    expect(auditStl(readFileSync(line.path("propped/ring.plate.stl")))).toMatchObject({
      closed: true,
      pieces: 1,
    });
    expect(line.read("propped/ring.workshop.html")).toContain("rod");
  });
});

describe("--out", () => {
  test("writes what is printed: STL and 3MF that lie on the plate, the workshop sheet, the reports", async () => {
    const { code, told, plan: its } = await plan("--out", "planned", "--orientation", "90,0,0");
    expect(code).toBe(0);
    expect(told.files.map(({ path }: { path: string }) => basename(path)).sort()).toEqual(
      readdirSync(line.path("planned")).sort(),
    );
    const kinds = told.files.map(({ kind }: { kind: string }) => kind);
    for (const kind of ["stl", "report-json", "plate-stl", "plate-3mf", "workshop-html"])
      expect(kinds).toContain(kind);
    const bytes = readFileSync(line.path("planned/ring.plate.stl"));
    const audit = auditStl(bytes);
    expect(audit).toMatchObject({ closed: true, pieces: 1 });
    expect(audit.volumeMm3 / 1000 / told.report.volumeCm3).toBeCloseTo(1, 3);
    const { positions } = readStl(bytes);
    const heights = [...positions].filter((_, i) => i % 3 === 2);
    expect(Math.min(...heights)).toBeCloseTo(0, 3);
    // As it lies: as high as the plan says, to a layer.
    expect(Math.abs(Math.max(...heights) - its.plates[0].heightMm)).toBeLessThanOrEqual(0.2);
    const group = readByThree(readFileSync(line.path("planned/ring.plate.3mf")));
    expect(group.children.length).toBeGreaterThan(0);
    const sheet = line.read("planned/ring.workshop.html");
    expect(sheet.startsWith("<!doctype html>") || sheet.startsWith("<!DOCTYPE html>")).toBe(true);
    expect(sheet.trimEnd().endsWith("</html>")).toBe(true);
    expect(sheet).toContain("Tide ring");
    expect(line.read("planned/ring.report.md")).toContain("## Print plan");
    expect(JSON.parse(line.read("planned/ring.report.json"))).toEqual(told.report);
  });

  test("a piece that is too large is cut: a file a plate and a piece, volumes that add up", async () => {
    const { code, told, plan: its } = await plan("--printer", "small.printer.json", "--out", "cut");
    expect(code).toBe(0);
    const { pieces, joints, wholeCm3, pegsCm3, socketsCm3, piecesCm3 } = its.pieces!;
    expect(pieces.length).toBeGreaterThan(1);
    expect(pieces.every(({ fits }) => fits)).toBe(true);
    expect(joints.length).toBeGreaterThanOrEqual(pieces.length - 1);
    expect(Math.abs(piecesCm3 - (wholeCm3 + pegsCm3 - socketsCm3))).toBeLessThan(1e-3 * wholeCm3);
    expect(wholeCm3).toBeCloseTo(told.report.volumeCm3, 1);
    const names = readdirSync(line.path("cut"));
    const stls = names.filter((name) => /\.piece-[A-Z]\.stl$/.test(name));
    expect(stls).toHaveLength(pieces.length);
    let volume = 0;
    for (const name of stls) {
      const bytes = readFileSync(line.path(`cut/${name}`));
      const audit = auditStl(bytes);
      expect(audit, name).toMatchObject({ closed: true, pieces: 1 });
      volume += audit.volumeMm3 / 1000;
      const { positions } = readStl(bytes);
      // 32-bit numbers of an STL hold a tenth of a micrometre here.
      for (const [axis, room] of [150.0001, 150.0001, 250.0001].entries()) {
        const along = [...positions].filter((_, i) => i % 3 === axis);
        expect(Math.max(...along) - Math.min(...along), name).toBeLessThanOrEqual(room);
      }
    }
    expect(volume).toBeCloseTo(piecesCm3, 1);
    expect(names.filter((name) => name.endsWith(".3mf"))).toHaveLength(its.plates.length);
    expect(line.read("cut/ring.workshop.html")).toContain(pieces[1].name);
    expect(its.findings.map(({ id }) => id)).toContain("cut-into-pieces");
  });
});

describe("anadem build", () => {
  test("writes the plate's files too, and tells the plan in short", async () => {
    const { code, out } = await line.run(["build", "ring.headpiece.ts", "--out", "built"]);
    expect(code).toBe(0);
    expect(readdirSync(line.path("built"))).toEqual(
      expect.arrayContaining(["ring.plate.stl", "ring.plate.3mf", "ring.workshop.html"]),
    );
    expect(out).toContain("Print plan");
    expect(out).toContain("anadem plan tells all of it");
    expect(out).not.toContain("Ways up");
  });
});
