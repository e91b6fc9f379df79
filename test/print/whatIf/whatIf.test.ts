import { describe, expect, it } from "vitest";
import { dominates } from "../../../src/print/whatIf/pareto";
import { usualSteps } from "../../../src/print/whatIf/usualSteps";
import { geometryKey, variantKey } from "../../../src/print/whatIf/variant";
import { type WhatIfTable, whatIf } from "../../../src/print/whatIf/whatIf";
import { aBox, boxArm, boxBase, boxCandidates, boxEvaluator, printBox } from "./boxPrint";

const nozzle = 0.4;

describe("what would change it", () => {
  it("is a table of ways to print, sorted by hours, with the base among them", async () => {
    const { rows, base, isWhole } = await whatIf(boxBase, boxCandidates, boxEvaluator(), { nozzle });
    expect(isWhole).toBe(true);
    expect(rows.filter(({ kind }) => kind === "base")).toEqual([base]);
    expect(base.variant).toEqual(boxBase);
    expect(base.words).toBe("as set up");
    expect(base.line).toBe("");
    const hours = rows.map(({ figures }) => figures.hours);
    expect([...hours].sort((a, b) => a - b)).toEqual(hours);
    expect(new Set(rows.map(({ variant }) => variantKey(variant))).size).toBe(rows.length);
  });

  it("says of every row what it takes, what is changed, and how it differs from the base", async () => {
    const { rows, base } = await whatIf(boxBase, boxCandidates, boxEvaluator(), { nozzle });
    for (const { kind, variant, figures, difference, changed, words, line } of rows) {
      const estimate = printBox(aBox, variant);
      expect(figures).toMatchObject(estimate);
      expect(figures.weakest).toEqual(boxArm(aBox, variant));
      expect(difference.hours).toBe(estimate.hours - base.figures.hours);
      expect(difference.grams).toBe(estimate.grams - base.figures.grams);
      expect(difference.metres).toBe(estimate.metres - base.figures.metres);
      expect(difference.price).toBe(estimate.price! - base.figures.price!);
      expect(difference.spools).toBe(estimate.spools - base.figures.spools);
      expect(difference.factor).toBe(figures.weakest!.factor - base.figures.weakest!.factor);
      if (kind === "base") continue;
      expect(changed.length).toBe(kind === "single" ? 1 : Math.max(2, changed.length));
      expect(words.split(", ").length).toBe(changed.length);
      for (const name of changed) expect(line).toContain(`${name}: `);
    }
  });

  it("changes one thing at a time over its usual values, and tries every way up", async () => {
    const { rows } = await whatIf(boxBase, boxCandidates, boxEvaluator(), { nozzle });
    const singles = rows.filter(({ kind }) => kind === "single");
    const values = (name: "layerHeight" | "shells" | "infill" | "supportShare") =>
      singles
        .filter(({ changed }) => changed[0] === name)
        .map(({ variant }) => variant.settings[name])
        .sort((a, b) => a - b);
    expect(values("layerHeight")).toEqual([0.12, 0.16, 0.24, 0.28]);
    expect(values("shells")).toEqual([2, 4]);
    expect(values("infill")).toEqual([5, 10, 20, 25, 30]);
    expect(values("supportShare")).toEqual([5, 10, 15, 25, 30, 40]);
    const turned = singles.filter(({ changed }) => changed[0] === "orientation");
    expect(turned.map(({ variant }) => variant.orientation).sort()).toEqual([1, 2]);
  });

  it("adds combinations that take no longer, and no more than it may", async () => {
    const { rows } = await whatIf(boxBase, boxCandidates, boxEvaluator(), { nozzle, mostGeometries: 200 });
    const combinations = rows.filter(({ kind }) => kind === "combination");
    expect(combinations.length).toBeGreaterThan(3);
    expect(combinations.length).toBeLessThanOrEqual(12);
    const base = rows.find(({ kind }) => kind === "base")!;
    for (const { figures } of combinations) expect(figures.hours).toBeLessThanOrEqual(base.figures.hours);
  });

  it("marks rows that no other row betters", async () => {
    const candidates = boxCandidates.map((candidate, i) => ({ ...candidate, fits: i !== 2 }));
    const { rows } = await whatIf(boxBase, candidates, boxEvaluator(), { nozzle });
    const numbers = ({ figures, variant }: (typeof rows)[number]) => [
      figures.hours,
      figures.grams,
      -figures.weakest!.factor,
      variant.settings.layerHeight,
    ];
    const fitting = rows.filter(({ fits }) => fits);
    expect(rows.filter(({ fits }) => !fits).map(({ variant }) => variant.orientation)).toEqual([2]);
    for (const row of rows) {
      const isBettered = fitting.some((other) => dominates(numbers(other), numbers(row)));
      expect(row.isBest).toBe(row.fits && !isBettered);
      if (row.kind === "combination") expect(row.isBest).toBe(true);
    }
  });

  it("sorts by what is asked for", async () => {
    const by = async (order: "grams" | "price" | "spools" | "factor") =>
      (await whatIf(boxBase, boxCandidates, boxEvaluator(), { nozzle, order })).rows;
    const grams = (await by("grams")).map(({ figures }) => figures.grams);
    expect([...grams].sort((a, b) => a - b)).toEqual(grams);
    const prices = (await by("price")).map(({ figures }) => figures.price!);
    expect([...prices].sort((a, b) => a - b)).toEqual(prices);
    const spools = (await by("spools")).map(({ figures }) => figures.spools);
    expect([...spools].sort((a, b) => a - b)).toEqual(spools);
    const factors = (await by("factor")).map(({ figures }) => figures.weakest!.factor);
    expect([...factors].sort((a, b) => b - a)).toEqual(factors);
  });

  it("lays paths for no more ways than it may, and for none twice", async () => {
    for (const mostGeometries of [1, 5, 9, 14, 24]) {
      const evaluator = boxEvaluator();
      const table = await whatIf(boxBase, boxCandidates, evaluator, { nozzle, mostGeometries });
      const geometries = new Set(evaluator.calls.map(geometryKey));
      expect(geometries.size).toBeLessThanOrEqual(mostGeometries);
      expect(table.geometries).toBe(geometries.size);
      expect(new Set(evaluator.calls.map(variantKey)).size).toBe(evaluator.calls.length);
      // What keeps one geometry a way up and layer is asked for the base's again at most once.
      expect(evaluator.geometryChanges()).toBeLessThanOrEqual(2 * geometries.size);
    }
  });

  it("comes bit by bit, the base first, and whole at last", async () => {
    const tables: WhatIfTable[] = [];
    const table = await whatIf(boxBase, boxCandidates, boxEvaluator(), {
      nozzle,
      onTable: (partial) => tables.push(partial),
    });
    expect(tables[0].rows.map(({ kind }) => kind)).toEqual(["base"]);
    expect(tables[1].geometries).toBe(1);
    expect(tables[1].rows.length).toBeGreaterThan(8);
    for (let i = 1; i < tables.length; i++) {
      expect(tables[i].rows.length).toBeGreaterThanOrEqual(tables[i - 1].rows.length);
    }
    expect(tables.map(({ isWhole }) => isWhole)).toEqual([...tables.slice(1).map(() => false), true]);
    expect(tables.at(-1)).toEqual(table);
  });

  it("ends when nobody wants it any more", async () => {
    const ended = new AbortController();
    const evaluator = boxEvaluator();
    const table = whatIf(
      boxBase,
      boxCandidates,
      {
        ...evaluator,
        estimate(variant) {
          if (evaluator.calls.length === 4) ended.abort(new Error("a newer design"));
          return evaluator.estimate(variant);
        },
      },
      { nozzle, signal: ended.signal },
    );
    await expect(table).rejects.toThrow("a newer design");
    expect(evaluator.calls.length).toBe(5);
  });

  it("is answered for a piece whose strength and prices are not known", async () => {
    const { estimate } = boxEvaluator();
    const bare = {
      estimate: (variant: typeof boxBase) => {
        const { price: _, hoursPrice: __, ...rest } = estimate(variant) as ReturnType<typeof printBox>;
        return rest;
      },
    };
    const { rows } = await whatIf(boxBase, boxCandidates, bare, { nozzle });
    expect(rows.length).toBeGreaterThan(15);
    for (const { figures, difference } of rows) {
      expect("price" in figures || "weakest" in figures).toBe(false);
      expect("price" in difference || "factor" in difference).toBe(false);
    }
  });

  it("refuses an estimate that is no number, and a base that is no candidate", async () => {
    const broken = { estimate: () => ({ hours: Number.NaN, grams: 1, metres: 1, spools: 1 }) };
    await expect(whatIf(boxBase, boxCandidates, broken, { nozzle })).rejects.toThrow(/hours are NaN/);
    await expect(
      whatIf({ ...boxBase, orientation: 3 }, boxCandidates, boxEvaluator(), { nozzle }),
    ).rejects.toThrow(RangeError);
  });

  it("does not vary supports where none are wanted", async () => {
    const base = { ...boxBase, settings: { ...boxBase.settings, supportShare: 0 } };
    expect(usualSteps(base.settings, nozzle).supportShare).toEqual([0]);
    const { rows } = await whatIf(base, boxCandidates, boxEvaluator(), { nozzle });
    expect(rows.every(({ variant }) => variant.settings.supportShare === 0)).toBe(true);
  });
});
