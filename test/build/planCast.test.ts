import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import Ajv from "ajv";
import { afterAll, beforeEach, describe, expect, test } from "vitest";
import { planCast } from "../../src/build/cast/planCast";
import type { RefitRow } from "../../src/build/refit/refitRow";
import type { RefitCell, refit } from "../../src/build/refit/refitting";
import planSchema from "../../src/export/cast-plan.schema.json";
import { castAnswer, castText } from "../../src/export/castText";
import { dayOf } from "../../src/print/schedule/calendar";

const folder = mkdtempSync(join(tmpdir(), "anadem-plan-cast-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);
const write = (name: string, content: unknown) => {
  writeFileSync(at(name), typeof content === "string" ? content : JSON.stringify(content, undefined, 2));
  return at(name);
};

const today = dayOf("2027-03-01")!; // a Monday

const piece = (design: string, wearer: string, more: object = {}) => ({
  design: `${design}.headpiece.ts`,
  wearer: `${wearer}.wearer.json`,
  ...more,
});

const document = (change: object = {}) => ({
  production: "The Tide Court",
  opens: "2027-03-20",
  ready: 7,
  pieces: [piece("ring", "marin"), piece("horns", "brine", { role: "The Ram" })],
  printers: [{ file: "small.printer.json" }, { file: "large.printer.json" }],
  ...change,
});

beforeEach(() => {
  for (const name of ["ring", "horns"]) write(`${name}.headpiece.ts`, "");
  for (const [name, girth] of [
    ["marin", 570],
    ["brine", 580],
    ["spray", 560],
  ] as const)
    write(`${name}.wearer.json`, { name: name[0].toUpperCase() + name.slice(1), units: "mm", girth });
  for (const [name, width] of [
    ["small", 150],
    ["large", 300],
  ] as const)
    write(`${name}.printer.json`, {
      name: `The ${name} one`,
      plate: { shape: "rectangular", width, depth: width },
      height: 300,
    });
  write("pla.material.json", {
    name: "PLA",
    density: 1.24,
    softening: [55, 65],
    strength: 37,
    modulus: 2.3,
    spool: 1000,
    pricePerKilogram: 22,
    currency: "€",
  });
});

type Figures = Partial<RefitRow> & { hours?: number; grams?: number };

/** Stands in for the making of pieces: what each cell comes to is made up. */
function stand(figures: (cell: RefitCell) => Figures) {
  const asked: RefitCell[][] = [];
  const make: typeof refit = async ({ cells = [] }, _, events) => {
    asked.push([...cells]);
    for (const i of cells.keys()) events?.onProgress?.(i + 1, cells.length);
    const rows = cells.map((cell): RefitRow => {
      const { hours = 8, grams = 200, ...more } = figures(cell);
      const headpiece = cell.design.split("/").at(-1)!.split(".")[0];
      const name = cell.wearer.split("/").at(-1)!.split(".")[0];
      return {
        design: cell.design,
        wearer: cell.wearer,
        headpiece: headpiece[0].toUpperCase() + headpiece.slice(1),
        wearerName: name[0].toUpperCase() + name.slice(1),
        verdict: "wear",
        passes: true,
        reasons: [],
        girthPlay: 8,
        girthEase: 8,
        mass: grams * 0.9,
        plate: { printer: cell.printer!, fits: true, summary: "fits as designed" },
        hours,
        filament: { metres: grams / 3, grams, material: "PLA" },
        messages: [],
        files: [],
        inputs: [cell.design, cell.wearer, at("pla.material.json")],
        kept: false,
        ...more,
      };
    });
    return { rows, messages: [] };
  };
  return { asked, make };
}

async function planned(change: object, figures: (cell: RefitCell) => Figures) {
  const file = write("tide.cast.json", document(change));
  const { asked, make } = stand(figures);
  const progress: [number, number][] = [];
  const result = await planCast(
    { file, today },
    "script",
    { onProgress: (done, all) => progress.push([done, all]) },
    make,
  );
  expect(result.messages.filter(({ severity }) => severity === "error" && !result.report)).toEqual([]);
  const report = result.report!;
  const validate = new Ajv({ allErrors: true }).compile(planSchema);
  expect(validate(JSON.parse(JSON.stringify(report))), JSON.stringify(validate.errors)).toBe(true);
  return { ...result, report, asked, progress };
}

const isSmall = ({ printer }: RefitCell) => printer!.endsWith("small.printer.json");
const isHorns = ({ design }: RefitCell) => design.endsWith("horns.headpiece.ts");
const tooLarge = (cell: RefitCell) => ({
  plate: { printer: cell.printer!, fits: false, summary: "too large by 40 mm in width" },
});

describe("a cast that goes well", () => {
  test("each piece is made once for each printer, and printed where it is in time and done first", async () => {
    const { report, asked, progress, inputs } = await planned({}, (cell) => ({
      hours: isSmall(cell) ? 16 : 8,
    }));
    expect(asked).toHaveLength(1);
    expect(asked[0].map(({ design, printer, name }) => [design, printer, name])).toEqual([
      [at("ring.headpiece.ts"), at("small.printer.json"), "small"],
      [at("ring.headpiece.ts"), at("large.printer.json"), "large"],
      [at("horns.headpiece.ts"), at("small.printer.json"), "small"],
      [at("horns.headpiece.ts"), at("large.printer.json"), "large"],
    ]);
    expect(progress.at(-1)).toEqual([4, 4]);
    expect(report.ok).toBe(true);
    expect(report.findings).toEqual([]);
    // 8 h and a quarter are 10: on the large one 08:00 to 18:00, then 18:30 to 04:30; beside it 20 h on the small one
    // would end before (04:00).
    expect(report.prints.map(({ printer, start, end, hours }) => [printer, start, end, hours])).toEqual([
      ["The small one", "2027-03-01T08:00", "2027-03-02T04:00", 20],
      ["The large one", "2027-03-01T08:00", "2027-03-01T18:00", 10],
    ]);
    // Due on 13 March, 20:00.
    expect(report.readyBy).toBe("2027-03-13");
    expect(report.schedule.greatestLatenessHours).toBe(-(11 * 24 + 16));
    expect(report.printers.map(({ prints, hours, days }) => [prints, hours, days])).toEqual([
      [1, 20, 2],
      [1, 10, 1],
    ]);
    // 13 days of 24 h.
    expect(report.printers[0].loadPercent).toBe(Math.round((100 * 20) / (13 * 24)));
    expect(inputs).toContain(at("pla.material.json"));
    expect(castAnswer(report)).toMatch(/^In time/);
  });

  test("filament with its waste, less what is in stock, and its price", async () => {
    const spools = [{ material: "pla.material.json", grams: 250 }];
    const printers = [{ file: "large.printer.json" }];
    const { report } = await planned({ spools, printers }, () => ({ grams: 300 }));
    // 600 g and a tenth are 660 g; 250 g in stock: one spool of 1000 g at 22 € a kilogram, and both prints from it.
    expect(report.filament).toEqual([
      {
        material: "PLA",
        printsG: 600,
        wasteG: 60,
        stockG: 250,
        spoolG: 1000,
        buy: 1,
        price: 22,
        currency: "€",
        changes: 0,
      },
    ]);
    expect(report.prints.map(({ spools }) => spools)).toEqual([
      [{ spool: "PLA, new spool no. 1", grams: 330 }],
      [{ spool: "PLA, new spool no. 1", grams: 330 }],
    ]);
  });

  test("copies are printed one by one, and what is alike is made once", async () => {
    const pieces = [piece("ring", "marin", { copies: 2 }), piece("ring", "marin", { role: "Another" })];
    const { report, asked } = await planned(
      { pieces, printers: [{ file: "large.printer.json", count: 2 }] },
      () => ({}),
    );
    expect(asked[0]).toHaveLength(1);
    expect(report.prints.map(({ piece, copy }) => [piece, copy])).toEqual(
      expect.arrayContaining([
        [0, 1],
        [0, 2],
        [1, undefined],
      ]),
    );
    expect(new Set(report.prints.map(({ printer }) => printer))).toEqual(
      new Set(["The large one, no. 1", "The large one, no. 2"]),
    );
  });

  test("parameters, material, print settings and the printer of a piece are asked for", async () => {
    write("fine.print.json", { name: "Fine" });
    const own = {
      parameters: { rays: 5 },
      material: "pla.material.json",
      print: "fine.print.json",
      printer: "large.printer.json",
    };
    const { asked } = await planned({ pieces: [piece("ring", "marin", own)] }, () => ({}));
    expect(asked[0]).toHaveLength(1);
    expect(asked[0][0]).toMatchObject({
      printer: at("large.printer.json"),
      material: at("pla.material.json"),
      print: at("fine.print.json"),
      values: { rays: 5 },
    });
    expect(asked[0][0].name).toMatch(/^large-fine-pla-values-[0-9a-f]{8}$/);
  });

  test("the text says it all, and the cautions", async () => {
    const { report } = await planned({}, () => ({}));
    const text = castText(report, { colour: false });
    for (const part of [
      "The Tide Court",
      "The Ram: Horns",
      "The large one",
      "buy 2 spools of 1000 g (€ 44); 1 would do if nothing were printed at the same time",
      "In time",
    ])
      expect(text).toContain(part);
    for (const caution of report.cautions) expect(text).toContain(caution);
    expect(report.cautions.length).toBeGreaterThan(6);
  });
});

describe("a cast that does not", () => {
  const idsOf = ({ findings }: { findings: readonly { id: string }[] }) => findings.map(({ id }) => id);

  test("late: which, by how much, and what would mend it, at its line", async () => {
    const { report, messages } = await planned(
      { opens: "2027-03-10", starts: "2027-03-03", printers: [{ file: "large.printer.json" }] },
      () => ({ hours: 16 }),
    );
    // 20 h each: Wednesday 3 March 08:00 to 04:00, then 08:00 to 04:00 on the 5th; due on the 3rd at 20:00.
    expect(report.ok).toBe(false);
    expect(idsOf(report)).toEqual(["cast-late", "cast-late"]);
    expect(report.prints.map(({ lateHours }) => lateHours)).toEqual([8, 32]);
    // Two days earlier is today: 1 March 08:00 to 2 March 04:00, 08:00 to 3 March 04:00.
    expect(report.findings[0].suggestion).toBe("all would be in time: begin 2 days earlier, on 2027-03-01");
    const late = messages.find(({ id }) => id === "cast-late")!;
    expect(late).toMatchObject({ file: at("tide.cast.json"), field: "pieces.0.design" });
    expect(late.line).toBeGreaterThan(1);
    expect(castAnswer(report)).toBe("2 prints late, by up to 32 h");
  });

  test("one more printer is proposed where it is enough", async () => {
    const { report } = await planned(
      { opens: "2027-03-09", ready: 7, printers: [{ file: "large.printer.json" }] },
      () => ({ hours: 20 }),
    );
    // 25 h each: 1 March 08:00 to 2 March 09:00 is in time, the second is not; it cannot begin before today.
    expect(report.prints.map(({ lateHours }) => lateHours > 0)).toEqual([false, true]);
    expect(report.findings[0].suggestion).toBe("all would be in time: have one more of The large one");
  });

  test("fits nobody: who else of the cast, and the understudies, could wear it", async () => {
    const { report, asked, progress } = await planned({ understudies: ["spray.wearer.json"] }, (cell) =>
      isHorns(cell) && cell.wearer !== at("spray.wearer.json")
        ? { verdict: "dont", passes: false, reasons: ["it cannot be put on"] }
        : {},
    );
    expect(asked).toHaveLength(2);
    expect(asked[1].map(({ design, wearer }) => [design, wearer])).toEqual([
      [at("horns.headpiece.ts"), at("marin.wearer.json")],
      [at("horns.headpiece.ts"), at("spray.wearer.json")],
    ]);
    expect(progress.at(-1)).toEqual([6, 6]);
    expect(report.pieces[1]).toMatchObject({ verdict: "dont", others: ["Spray"] });
    expect(report.findings).toMatchObject([
      {
        id: "cast-fits-nobody",
        text: '"Horns" (The Ram) is not to be worn by Brine: it cannot be put on',
        suggestion: "made for Spray it may be worn; or change the design",
      },
    ]);
    // It will be printed in some form: its time is kept.
    expect(report.prints).toHaveLength(2);
  });

  test("too large for all printers: cut, and printed where it then fits", async () => {
    const { report, asked } = await planned({}, (cell) => {
      if (!isHorns(cell)) return {};
      if (!cell.isCut) return tooLarge(cell);
      const { plate } = tooLarge(cell);
      return isSmall(cell) ? { plate } : { plate: { ...plate, pieces: 3 }, hours: 12 };
    });
    expect(asked[1].map(({ isCut, name }) => [isCut, name])).toEqual([
      [true, "small-cut"],
      [true, "large-cut"],
    ]);
    expect(report.ok).toBe(true);
    expect(report.pieces[1].on.map(({ fits, cutInto }) => [fits, cutInto])).toEqual([
      [false, undefined],
      [false, 3],
    ]);
    expect(report.prints.find(({ piece }) => piece === 1)).toMatchObject({
      printer: "The large one",
      hours: 15,
    });
  });

  test("too large for all printers even so", async () => {
    const { report } = await planned({}, (cell) => (isHorns(cell) ? tooLarge(cell) : {}));
    expect(idsOf(report)).toEqual(["cast-fits-no-printer"]);
    expect(report.findings[0].text).toContain("too large by 40 mm");
    expect(report.prints.map(({ piece }) => piece)).toEqual([0]);
  });

  test("a design that comes to no solid does not stop the others", async () => {
    const error = {
      id: "syntax",
      severity: "error" as const,
      text: "a brace is missing",
      file: at("horns.headpiece.ts"),
      line: 3,
      column: 1,
    };
    const { report } = await planned({}, (cell) =>
      isHorns(cell)
        ? {
            verdict: "failed",
            passes: false,
            messages: [error],
            plate: undefined,
            hours: undefined,
            mass: undefined,
            filament: undefined,
          }
        : {},
    );
    expect(idsOf(report)).toEqual(["cast-piece-failed"]);
    expect(report.findings[0].notes).toEqual([
      { text: "a brace is missing", file: "horns.headpiece.ts", line: 3, column: 1 },
    ]);
    expect(report.prints).toHaveLength(1);
    expect(JSON.stringify(report)).not.toContain(folder);
  });

  test("a print that is longer than its printer may run finds no place", async () => {
    const printers = [{ file: "large.printer.json", hoursADay: 6 }];
    const { report } = await planned({ printers }, (cell) => ({ hours: isHorns(cell) ? 8 : 4 }));
    expect(idsOf(report)).toEqual(["cast-no-place"]);
    expect(report.prints.map(({ piece }) => piece)).toEqual([0]);
  });

  test("a first night that is over, or too near", async () => {
    expect(idsOf((await planned({ opens: "2027-02-20" }, () => ({}))).report)[0]).toBe("cast-opened");
    expect(idsOf((await planned({ opens: "2027-03-04" }, () => ({}))).report)[0]).toBe("cast-too-late");
  });

  test("a wrong file: no plan, nothing is made", async () => {
    const { asked, make } = stand(() => ({}));
    const file = write("tide.cast.json", document({ opens: "soon" }));
    const result = await planCast({ file, today }, "script", {}, make);
    expect(result.report).toBeUndefined();
    expect(result.messages[0]).toMatchObject({ id: "out-of-range", field: "opens" });
    expect(asked).toEqual([]);
  });

  test("a plan that is stopped says so", async () => {
    const controller = new AbortController();
    const { make } = stand(() => {
      controller.abort();
      return {};
    });
    const file = write("tide.cast.json", document());
    await expect(planCast({ file, today }, "script", { signal: controller.signal }, make)).rejects.toThrow(
      /abort/i,
    );
  });
});
