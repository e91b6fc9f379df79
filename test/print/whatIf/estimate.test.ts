import { describe, expect, it } from "vitest";
import { defaultPrinter } from "../../../src/build/printerFile";
import type { Printer } from "../../../src/checks/printer";
import type { PartMesh, TriangleMesh } from "../../../src/geometry/mesh";
import type { Orientation } from "../../../src/orientation";
import { layerTotals } from "../../../src/print/layers/filament";
import { planLayers } from "../../../src/print/layers/planLayers";
import { type PlacedPiece, placedPiece, upOf } from "../../../src/print/placedPiece";
import { findSupport } from "../../../src/print/support/findSupport";
import { supportLayers } from "../../../src/print/support/supportLayers";
import { compareCosts } from "../../../src/print/whatIf/changeCost";
import { printEstimator } from "../../../src/print/whatIf/estimate";
import { meetWish } from "../../../src/print/whatIf/meetWish";
import type { OrientationCandidate, PrintEstimate, Variant } from "../../../src/print/whatIf/variant";
import { variantKey, withSettings } from "../../../src/print/whatIf/variant";
import { whatIf } from "../../../src/print/whatIf/whatIf";
import type { WishFigure } from "../../../src/print/whatIf/wish";
import { defaultPrintSettings } from "../../../src/printSettings";
import { plastic } from "../../checks/beams/strengthPieces";
import { turned } from "../../checks/shapes";
import { nozzle, tryEverything } from "./tryEverything";

const printer: Printer = { ...defaultPrinter, name: "Hall printer", pricePerHour: 0.4 };
const material = { ...plastic, pricePerKilogram: 24 };

const asPart = (mesh: TriangleMesh): PartMesh => ({
  ...mesh,
  partOfTriangle: new Int32Array(mesh.triangles.length / 3),
});

/** A mushroom: a cap of radius 30 and thickness 12 on a stem of radius 8 and height 40. */
const mushroom = asPart(
  turned(
    [
      [0, 0],
      [8, 0],
      [8, 40],
      [30, 40],
      [30, 52],
      [0, 52],
    ],
    48,
  ),
);
const candidates: readonly OrientationCandidate[] = [
  { name: "as designed", orientation: { tilt: 0, towards: 0, turn: 0 }, fits: true },
  { name: "least support", orientation: { tilt: 180, towards: 0, turn: 0 }, fits: true },
];
const placedAs = (orientation: Orientation): PlacedPiece => placedPiece(mushroom, orientation, printer.plate);
const base: Variant = { settings: defaultPrintSettings, orientation: 0 };

function mushroomEstimator(options: Partial<Parameters<typeof printEstimator>[0]> = {}) {
  const made = { placed: 0, supports: 0 };
  const evaluator = printEstimator({
    placedOf(orientation) {
      made.placed += 1;
      return placedAs(candidates[orientation].orientation);
    },
    supportOf(placed, settings) {
      made.supports += 1;
      return findSupport(placed, settings, { cell: 1 });
    },
    printer,
    material,
    ...options,
  });
  const estimate = (variant: Variant) => evaluator.estimate(variant) as PrintEstimate;
  return { evaluator, estimate, made };
}

describe("estimates of ways to print a piece", () => {
  it("are those of the layers, whatever was asked for before", () => {
    const { estimate } = mushroomEstimator({ sampleEvery: 1 });
    for (const [layerHeight, shells, infill, supportShare, orientation] of [
      [0.2, 3, 15, 20, 0],
      [0.2, 3, 40, 5, 0],
      [0.28, 2, 40, 50, 0],
      [0.2, 3, 15, 20, 1],
      [0.2, 3, 15, 0, 0],
      [0.2, 3, 15, 20, 0],
    ]) {
      const variant = { ...withSettings(base, { layerHeight, shells, infill, supportShare }), orientation };
      const { settings } = variant;
      const placed = placedAs(candidates[orientation].orientation);
      const support = findSupport(placed, { ...settings, layerHeight: 0.2 }, { cell: 1 });
      const count = Math.round(52 / layerHeight);
      const held = supportLayers(support, settings, { count, layerHeight });
      const totals = layerTotals(
        planLayers(placed, settings, printer, held, { sampleEvery: 1 }),
        material,
        printer,
      );
      const found = estimate(variant);
      expect(found).toEqual({
        hours: totals.hours,
        grams: totals.grams,
        metres: totals.metres,
        spools: 1,
        price: totals.price,
        hoursPrice: 0.4 * totals.hours,
      });
      expect(found.price).toBeCloseTo(0.024 * totals.grams + 0.4 * totals.hours, 9);
    }
  });

  it("place a piece and find its supports once a way up", async () => {
    const { evaluator, made } = mushroomEstimator();
    await whatIf(base, candidates, evaluator, { nozzle: 0.4 });
    expect(made).toEqual({ placed: 2, supports: 2 });
  });

  it("grow with infill, shells and support, and lie near those of close sections", () => {
    const { estimate } = mushroomEstimator();
    const close = mushroomEstimator({ sampleEvery: 0.2 });
    for (const [name, values] of [
      ["infill", [5, 15, 30, 50, 100]],
      ["supportShare", [5, 10, 20, 50]],
      ["shells", [1, 2, 3, 4, 5]],
    ] as const) {
      const grown = values.map((value) => estimate(withSettings(base, { [name]: value })));
      for (let i = 1; i < grown.length; i++) {
        expect(grown[i].grams, `${name} ${values[i]}`).toBeGreaterThan(grown[i - 1].grams);
        if (name !== "shells")
          expect(grown[i].hours, `${name} ${values[i]}`).toBeGreaterThan(grown[i - 1].hours);
      }
      values.forEach((value, i) => {
        const exact = close.estimate(withSettings(base, { [name]: value }));
        expect(grown[i].grams / exact.grams).toBeCloseTo(1, 1.7);
        expect(grown[i].hours / exact.hours).toBeCloseTo(1, 1.7);
      });
    }
  });

  it("need no support the other way up", () => {
    const { estimate } = mushroomEstimator();
    const standing = estimate(base);
    const lying = estimate({ ...base, orientation: 1 });
    expect(lying.grams).toBeLessThan(standing.grams);
    // What the support of the cap weighs: a ring of 8 to 30 mm under it, 20 % of it, less the contact layers' own share.
    const ring = Math.PI * (30 ** 2 - 8 ** 2);
    const sparse = ring * (40 - 0.2 - 0.6) * 0.2;
    const dense = ring * 0.6 * 0.8;
    expect((standing.grams - lying.grams) / (((sparse + dense) / 1000) * 1.24)).toBeCloseTo(1, 1);
  });

  it("ask for strength by what looks up and how it is filled", () => {
    const asked: unknown[] = [];
    const { evaluator } = mushroomEstimator({
      weakest(up, { shells, infill }) {
        asked.push([up.map((value) => Math.round(value) + 0), shells, infill]);
        return { part: "cap", factor: 2 };
      },
    });
    expect(evaluator.weakest?.({ ...withSettings(base, { shells: 4, infill: 30 }), orientation: 1 })).toEqual(
      {
        part: "cap",
        factor: 2,
      },
    );
    expect(asked).toEqual([[upOf(candidates[1].orientation).map((value) => Math.round(value) + 0), 4, 30]]);
    expect(mushroomEstimator().evaluator.weakest).toBeUndefined();
  });

  it("answer a wish with the way up that needs no support", async () => {
    const { evaluator, estimate } = mushroomEstimator();
    const standing = estimate(base);
    const lying = estimate({ ...base, orientation: 1 });
    const limit = lying.grams + 0.01;
    expect(limit).toBeLessThan(standing.grams);
    const wish = { conditions: [{ figure: "grams", limit, isStrict: true, text: "light" } as const] };
    const answer = await meetWish(wish, base, candidates, evaluator, { nozzle: 0.4 });
    if (answer.outcome !== "met") throw new Error("upside down it is light enough");
    expect(answer.choice.figures.grams).toBeLessThan(limit);
    expect(answer.choice.cost.changes).toBe(1);
  });

  it("bend so little that a wish finds what trying everything does", async () => {
    const { evaluator, estimate } = mushroomEstimator();
    const weakest = ({ settings }: Variant) => ({
      part: "stem",
      factor: 1 - 0.8 ** settings.shells * (1 - settings.infill / 100),
    });
    const known = new Map<string, PrintEstimate>();
    const figuresOf = (variant: Variant) => {
      const key = variantKey(variant);
      if (!known.has(key)) known.set(key, estimate(variant));
      return { ...known.get(key)!, weakest: weakest(variant) };
    };
    const { hours, grams, price = 0 } = estimate(base);
    const condition = (figure: WishFigure, limit: number) => ({
      figure,
      limit,
      isStrict: false,
      text: figure,
    });
    for (const share of [0.95, 0.8, 0.65, 0.5, 0.35]) {
      for (const conditions of [
        [condition("hours", share * hours)],
        [condition("grams", share * grams), condition("factor", 0.4)],
        [condition("hours", share * hours), condition("grams", share * grams)],
        [condition("price", share * price)],
      ]) {
        const context = JSON.stringify(conditions);
        const answer = await meetWish(
          { conditions },
          base,
          candidates,
          { ...evaluator, weakest },
          { nozzle },
        );
        const best = tryEverything({ conditions }, base, [0, 1], figuresOf);
        if (answer.outcome === "unknown") throw new Error("everything is known");
        expect(answer.outcome, context).toBe(best.excess === 0 ? "met" : "impossible");
        if (answer.outcome === "met") expect(compareCosts(answer.choice.cost, best.cost), context).toBe(0);
        else expect(Math.max(...answer.missed.map(({ excess }) => excess)), context).toBe(best.excess);
      }
    }
  });
});
