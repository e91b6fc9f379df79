import { describe, expect, it } from "vitest";
import { hoursBand, layerTotals, printedMassOfLayers } from "../../../src/print/layers/filament";
import { planLayers } from "../../../src/print/layers/planLayers";
import { box } from "../../checks/shapes";
import { pla, placed, printer, settings, total } from "./bodies";

const solid = { ...settings, infill: 100 };
// 40 × 30 × 20 mm, filled: 24 cm³, 29.76 g of PLA.
const plan = planLayers(placed(box([0, 0, 0], [40, 30, 20])), solid, printer);

describe("what a print takes", () => {
  it("grams and metres of a solid box by hand", () => {
    const totals = layerTotals(plan, pla, printer);
    expect(totals.grams).toBeCloseTo(24 * 1.24, 6);
    expect(printedMassOfLayers(plan, pla)).toBeCloseTo(24 * 1.24, 6);
    // 24 cm³ over π/4 × 1.75² mm² a metre.
    expect(totals.metres).toBeCloseTo(24 / ((Math.PI / 4) * 1.75 ** 2), 6);
    expect(totals.wasteGrams).toBe(0);
    expect(totals.spools).toBe(1);
    expect(totals.spoolEnds).toEqual([]);
  });

  // Metres a kilogram at 1.75 mm: computed from the cylinder's volume and published densities (PLA 1.24, PETG 1.27,
  // ABS 1.04 g/cm³, second hand).
  it.each([
    [1.24, 335.3],
    [1.27, 327.4],
    [1.04, 399.8],
  ])("metres a kilogram at %d g/cm³", (density, metres) => {
    const totals = layerTotals(plan, { ...pla, density }, printer);
    expect((1000 * totals.metres) / totals.grams).toBeCloseTo(metres, 1);
  });

  it("hours are those of all layers and the start", () => {
    const totals = layerTotals(plan, pla, printer);
    const seconds = Object.values(plan.seconds).reduce((sum, layers) => sum + total(layers), 0);
    expect(totals.hours).toBeCloseTo((seconds + 240) / 3600, 10);
    expect(totals.secondsSoFar[99]).toBeCloseTo(seconds + 240, 6);
    expect(totals.metresSoFar[99]).toBeCloseTo(totals.metres, 9);
    expect(totals.startHours + total(Object.values(totals.hoursByKind))).toBeCloseTo(totals.hours, 10);
    expect(total(Object.values(totals.gramsByKind))).toBeCloseTo(totals.grams, 9);
  });

  it("each spool ends in the layer where it is used up", () => {
    // 0.2976 g a layer: 7 g last through 23 layers and end in the 24th, 14 g in the 48th, 21 g in the 71st, 28 in the 95th.
    const { spoolEnds, spools } = layerTotals(plan, { ...pla, spool: 7 }, printer);
    expect(spools).toBe(5);
    expect(spoolEnds.map((end) => end.layer)).toEqual([23, 47, 70, 94]);
    expect(spoolEnds[0].height).toBeCloseTo(4.8, 9);
    expect(spoolEnds[0].hours).toBeCloseTo(layerTotals(plan, pla, printer).secondsSoFar[23] / 3600, 12);
  });

  it("a spool that just does is one", () => {
    expect(layerTotals(plan, { ...pla, spool: 24 * 1.24 }, printer).spools).toBe(1);
  });

  it("price: of the filament, of the hours, of both, of neither", () => {
    const hours = layerTotals(plan, pla, printer).hours;
    const filament = (29.76 / 1000) * 20;
    expect(layerTotals(plan, pla, printer).price).toBeUndefined();
    expect(layerTotals(plan, { ...pla, pricePerKilogram: 20 }, printer).price).toBeCloseTo(filament, 9);
    expect(layerTotals(plan, pla, { ...printer, pricePerHour: 0.5 }).price).toBeCloseTo(hours / 2, 9);
    expect(
      layerTotals(plan, { ...pla, pricePerKilogram: 20 }, { ...printer, pricePerHour: 0.5 }).price,
    ).toBeCloseTo(filament + hours / 2, 9);
  });

  // Real hours run about a quarter over estimates: common practice, no source.
  it("the band of hours reaches a quarter over the estimate, and says why", () => {
    const band = hoursBand(80);
    expect([band.least, band.most]).toEqual([80, 100]);
    expect(band.basis).toContain("common practice");
  });

  it("refuses a spool or a density of nothing", () => {
    expect(() => layerTotals(plan, { ...pla, spool: 0 }, printer)).toThrow("A spool holds 0 g");
    expect(() => layerTotals(plan, { ...pla, density: NaN }, printer)).toThrow(RangeError);
  });
});

describe("spools over several plates", () => {
  it("begin with what the plate before left", () => {
    // A tower of 0.2 mm layers of 9.92 g each (200 × 200 mm of PLA, filled): 900 g are gone, so 100 g are left: 10.08 layers.
    const tower = planLayers(placed(box([0, 0, 0], [200, 200, 10])), { ...settings, infill: 100 }, printer);
    const { spoolEnds } = layerTotals(tower, { ...pla, spool: 1000 }, printer, 900);
    expect(spoolEnds.map(({ spool, layer }) => [spool, layer])).toEqual([[1, 10]]);
    const later = layerTotals(tower, { ...pla, spool: 1000 }, printer, 1950);
    expect(later.spoolEnds.map(({ spool, layer }) => [spool, layer])).toEqual([[2, 5]]);
    expect(layerTotals(tower, { ...pla, spool: 1000 }, printer).spoolEnds).toEqual([]);
  });
});
