import { describe, expect, it } from "vitest";
import { comparisonLines, whatIfCells, whatIfLines, wishLines } from "../../src/export/planChoices";
import { planBlocks } from "../../src/export/planMarkdown";
import { composePlan, type ReportPlan } from "../../src/export/planReport";
import { planLines } from "../../src/export/planSentences";
import { planText } from "../../src/export/planText";
import type { Report } from "../../src/export/report";
import { reportMarkdown } from "../../src/export/reportMarkdown";
import { reportText } from "../../src/export/reportText";
import { textTable } from "../../src/export/textTable";
import type { WhatIfTable } from "../../src/print/whatIf/whatIf";
import { antlers, mastParts, planned } from "./plannedPieces";

const mast = await planned(mastParts);
const plan = composePlan(mast.plan, mast.job);
const cut = await planned(antlers);
const inPieces = composePlan(cut.plan, cut.job);

const reportWith = (its?: ReportPlan): Report =>
  ({
    headpiece: "Mast",
    wearer: "Maren of the Shoals",
    boxMm: { width: 1, depth: 1, height: 1 },
    centreOfMassMm: { right: 0, forward: 0, up: 0 },
    plates: [],
    head: {},
    parameters: [],
    parts: [],
    material: { name: "PLA" },
    massPrintedBasis: "From layers.",
    volumeCm3: 20,
    areaCm2: 60,
    messages: [],
    cautions: ["A headpiece is costume, not protective equipment."],
    ...(its && { plan: its }),
  }) as unknown as Report;

const lineOf = (its: ReportPlan, label: string) => planLines(its).find((line) => line.label === label);

describe("a plan in sentences", () => {
  it("begins with hours, their band and the filament, as makers ask", () => {
    expect(planLines(plan).map(({ label }) => label)).toEqual([
      "Hours",
      "Filament",
      "Price",
      "Spools",
      "Way up",
      "Supports",
      "Thin columns",
      "With props",
      "Weakest arm",
      "Finishing",
    ]);
    expect(lineOf(plan, "Hours")!.value).toMatch(/^\d+ min; likely [\dhmin ]+ to [\dhmin ]+$/);
    expect(lineOf(plan, "Filament")!.value).toMatch(/^\d+ g, [\d.]+ m of PLA, \d+ g of it for supports$/);
    expect(lineOf(plan, "Price")!.value).toMatch(/^\d+\.\d\d €$/);
    expect(lineOf(plan, "Spools")).toMatchObject({
      tone: "warning",
      value: expect.stringMatching(/^2; the first ends in layer \d+, [\d.]+ mm up, after [\d.]+ h$/),
    });
    expect(lineOf(plan, "Thin columns")!.value).toBe("1, under yard");
    expect(lineOf(plan, "With props")!.value).toMatch(/necks?: .*, 0 of 1 thin columns left$/);
  });

  it("says what is not there as good news, and no price where none is known", () => {
    const { price: _, currency: __, ...rest } = plan;
    const easy: ReportPlan = {
      ...rest,
      spools: 1,
      supports: { ...plan.supports, columns: 0, thinColumns: [] },
    };
    expect(lineOf(easy, "Price")).toBeUndefined();
    expect(lineOf(easy, "Spools")).toMatchObject({ value: "one is enough", tone: "good" });
    expect(lineOf(easy, "Supports")).toMatchObject({ value: "none needed", tone: "good" });
    expect(lineOf(easy, "Thin columns")).toBeUndefined();
    const { currency: ___, ...noCurrency } = plan;
    expect(lineOf(noCurrency, "Price")!.value).toMatch(/^\d+\.\d\d$/);
  });

  it("says of what is too large whether cutting helps", () => {
    expect(lineOf(inPieces, "Way up")).toMatchObject({ value: "in pieces, each its own way", tone: "good" });
    expect(lineOf(inPieces, "Pieces")!.value).toMatch(/^\d+, on \d+ plates?$/);
    const { pieces, ...rest } = inPieces;
    const uncut = { ...rest, pieces: { ...pieces!, pieces: pieces!.pieces.slice(0, 1) } };
    for (const one of [rest, uncut]) {
      expect(lineOf(one, "Way up")).toMatchObject({
        tone: "bad",
        value: expect.stringMatching(/it does not fit/),
      });
      expect(lineOf(one, "Pieces")).toBeUndefined();
    }
  });

  it("names a few of many thin columns, and how many more", () => {
    const thin = (names: string[]) => ({
      ...plan,
      supports: {
        ...plan.supports,
        thinColumns: names.map((name) => ({ ...plan.supports.thinColumns[0], parts: [name] })),
      },
    });
    expect(lineOf(thin(["a", "b", "a", "c", "d"]), "Thin columns")!.value).toBe("5, under a, b, c, d");
    expect(lineOf(thin(["a", "b", "c", "d", "e"]), "Thin columns")!.value).toBe(
      "5, under a, b, c and 2 more",
    );
  });

  it("is sparing with an arm that breaks: a warning below a factor of 1", () => {
    const arm = (factor: number) => lineOf({ ...plan, weakestArm: { part: "yard", factor } }, "Weakest arm")!;
    expect(arm(0.9)).toMatchObject({ tone: "warning", value: '"yard", a factor of 0.9' });
    expect(arm(1.1).tone).toBe("note");
  });
});

describe("the answer at a terminal", () => {
  const text = planText(reportWith(plan), { colour: false });

  it("has the answers, the settings, the ways up with the best marked, the findings, the cautions", () => {
    const places = [
      "Mast for Maren of the Shoals",
      "Hours",
      "the design's own: layers of 0.2 mm, 3 shells, 15 % infill; Hall printer",
      `Ways up, the best of ${plan.directionsCompared} directions`,
      "warning /shore/tide.headpiece.ts:7",
      plan.hoursBasis,
      "Take care",
    ].map((words) => text.indexOf(words));
    expect(
      places.every((place) => place >= 0),
      text,
    ).toBe(true);
    expect([...places].sort((a, b) => a - b)).toEqual(places);
    expect(text).toContain("› as designed");
    expect(text).toMatch(/\d \*/);
    expect(text).not.toContain(String.fromCharCode(27));
    expect(planText(reportWith(plan), { colour: true })).toContain(String.fromCharCode(27));
  });

  it("lists the pieces and their assembly where it is cut", () => {
    const pieces = planText(reportWith(inPieces), { colour: false });
    for (const { name } of inPieces.pieces!.pieces) expect(pieces).toContain(name);
    expect(pieces).toContain(`  1. ${inPieces.pieces!.assembly[0]}`);
    expect(text).not.toContain("plate 1");
  });

  it("is short among the report's other things, and says how much more there is", () => {
    const short = reportText(reportWith(plan), { colour: false });
    expect(short).toContain("Print plan");
    expect(short).toContain(planLines(plan)[0].value);
    expect(short).toContain(`${plan.findings.length} findings; anadem plan tells all of it`);
    expect(short).not.toContain("Ways up");
    expect(reportText(reportWith(), { colour: false })).not.toContain("Print plan");
  });
});

describe("the plan in Markdown", () => {
  const tablesOf = (blocks: readonly string[]) => blocks.filter((block) => block.startsWith("|"));

  it("stands before the head, and every table has rows of one length", () => {
    const markdown = reportMarkdown(reportWith(plan));
    expect(markdown.indexOf("## Print plan")).toBeGreaterThan(0);
    expect(markdown.indexOf("## Print plan")).toBeLessThan(markdown.indexOf("## Head"));
    expect(reportMarkdown(reportWith())).not.toContain("Print plan");
    for (const its of [plan, inPieces]) {
      const tables = tablesOf(planBlocks(its));
      expect(tables.length).toBeGreaterThanOrEqual(4);
      for (const table of tables) {
        const widths = table.split("\n").map((row) => row.replace(/\\\|/g, "").split("|").length);
        expect(new Set(widths).size, table).toBe(1);
      }
    }
  });

  it("has hours and grams by kind, summed over plates", () => {
    const rows = planBlocks(inPieces)
      .find((block) => block.includes("| outer shell |"))!
      .split("\n");
    const [, , hours, grams] = rows.find((row) => row.startsWith("| outer shell"))!.split("|");
    const sum = (of: (one: ReportPlan["plates"][number]) => number) =>
      inPieces.plates.reduce((total, one) => total + of(one), 0);
    expect(Number(hours)).toBeCloseTo(
      sum((one) => one.hoursByKind.outerShell),
      2,
    );
    expect(Number(grams)).toBeCloseTo(
      sum((one) => one.gramsByKind.outerShell),
      1,
    );
    expect(rows.some((row) => row.startsWith("| layer change |"))).toBe(true);
  });

  it("marks the chosen way up, and numbers the steps of assembly", () => {
    expect(planBlocks(plan).join("\n")).toMatch(/\| \*\*as designed/);
    expect(planBlocks(inPieces).at(-1)).toMatch(/^1\. /);
  });
});

describe("settings side by side, and what if", () => {
  const figures = { hours: 12.34, grams: 345.6, metres: 115.8, price: 13.77, spools: 1 };
  const row = (words: string, more: object) => ({ words, figures, fits: true, isBest: false, ...more });
  const table = {
    rows: [
      row("", { kind: "base" }),
      row("infill 10 % instead of 15 %", {
        kind: "single",
        isBest: true,
        figures: { ...figures, weakest: { part: "yard", factor: 1.456 } },
      }),
      row("tilted 90°", { kind: "orientation", fits: false, isBest: true }),
    ],
  } as unknown as WhatIfTable;

  it("has a row a setting, in columns", () => {
    const lines = comparisonLines([
      { name: "quick", plan },
      {
        name: "fine, for the front row",
        plan: { ...plan, hours: 2 * plan.hours, hoursMost: 3 * plan.hours, grams: 1234 },
      },
    ]);
    expect(lines).toHaveLength(5);
    const [head, first, second] = lines.slice(2);
    expect(second).toContain("1234 g");
    expect(first.indexOf("likely")).toBeGreaterThan(0);
    expect(head.indexOf("spools") + "spools".length).toBe(first.indexOf(" 2 ") + 2);
  });

  it("shows the price where one is known, the weakest arm, what is best and what does not fit", () => {
    const { head, rows } = whatIfCells(table, "€");
    expect(head).toContain("price");
    expect(rows.map(({ isBase }) => isBase)).toEqual([true, false, false]);
    expect(rows[0].cells.slice(0, 4)).toEqual(["as set up", "12.3", "346", "116"]);
    expect(rows[1].cells).toEqual([
      "infill 10 %",
      "12.3",
      "346",
      "116",
      "13.77 €",
      "1",
      "1.46",
      "nothing here is better in all",
    ]);
    expect(rows[2].cells.at(-1)).toBe("does not fit");
    const { price: _, ...unpriced } = figures;
    const plain = {
      rows: table.rows.map((one) => ({ ...one, figures: unpriced })),
    } as unknown as WhatIfTable;
    expect(whatIfCells(plain).head).not.toContain("price");
    expect(new Set(whatIfCells(plain).rows.map(({ cells }) => cells.length)).size).toBe(1);
    expect(whatIfLines(table)[3]).toMatch(/^ {2}› as set up/);
  });

  it("tells of a wish that it is met, what comes nearest, or what is not understood", () => {
    const answered = { words: "Under 60 h: yes.", choice: { line: "print: { infill: 10 }" } };
    const met = { outcome: "met", ...answered } as unknown as Parameters<typeof wishLines>[0];
    expect(wishLines(met).join("\n")).toMatch(/Wish: Under 60 h: yes\.\n.*print: \{ infill: 10 \}/);
    const no = { ...met, outcome: "impossible", remedies: ["another printer"] } as typeof met;
    expect(wishLines(no).at(-1)).toBe("  · another printer");
    const same = { ...met, choice: { line: "" } } as typeof met;
    expect(wishLines(same)).toHaveLength(2);
    const problems = [{ text: "no price is known", suggestion: "add pricePerKilogram" }];
    expect(wishLines({ outcome: "unknown", problems })[1]).toBe(
      "  Wish: no price is known (add pricePerKilogram)",
    );
  });
});

describe("a table for a terminal", () => {
  it("is as wide as its widest cells, with numbers to the right and texts to the left", () => {
    expect(
      textTable(
        ["", "g", "way"],
        [
          ["quick", "9", "up"],
          ["fine", "1234", "upside down"],
        ],
      ),
    ).toEqual(["          g  way", "quick     9  up", "fine   1234  upside down"]);
  });

  it("takes rows that are short, and none", () => {
    expect(textTable(["a", "b"], [["long"]])).toEqual(["a     b", "long"]);
    expect(textTable(["a", "b"], [])).toEqual(["a  b"]);
  });
});
