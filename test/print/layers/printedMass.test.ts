import { expect, test } from "vitest";
import { defaultOrientationWeights } from "../../../src/orientation";
import { layerTotals } from "../../../src/print/layers/filament";
import { layerSections } from "../../../src/print/layers/layerSections";
import { planLayers } from "../../../src/print/layers/planLayers";
import { printedMass } from "../../../src/print/layers/printedMass";
import { box } from "../../checks/shapes";
import { pla, placed, printer, settings } from "./bodies";

const brick = placed(box([0, 0, 0], [40, 30, 20]));
const jobWith = (changes: Partial<typeof settings>) => ({
  material: pla,
  printer,
  setup: {
    name: "test",
    settings: { ...settings, ...changes },
    orientation: "as designed" as const,
    weights: defaultOrientationWeights,
  },
});

test("a box of shells, skins and infill weighs what is laid in it, by hand", () => {
  const job = jobWith({
    shells: 2,
    lineWidth: 0.5,
    topLayers: 5,
    bottomLayers: 5,
    infill: 20,
    brimWidth: 10,
  });
  const mass = printedMass({ volume: 24_000 }, layerSections(brick, job.setup.settings), job);
  expect(mass.solid).toBeCloseTo(24 * 1.24, 9);
  // Two shells of 0.5 mm leave 38 × 28 mm; of 100 layers ten are filled, in 90 a fifth of it is. The brim is no part of it.
  const core = 38 * 28;
  const volume = 100 * 0.2 * (1200 - core) + 10 * 0.2 * core + 90 * 0.2 * core * 0.2;
  expect(mass.printed).toBeCloseTo((volume / 1000) * 1.24, 6);
  expect(mass.filament).toBeCloseTo(volume / 1000 / ((Math.PI / 4) * 1.75 ** 2), 6);
  expect(mass.basis).toMatch(
    /^From 100 layers of 0.2 mm: 2 shells of 0.5 mm, 5 filled.*20 % infill, PLA of 1.24/,
  );
});

test("it is what the plan says of the piece alone", () => {
  const job = jobWith({ infill: 15 });
  const mass = printedMass({ volume: 24_000 }, layerSections(brick, job.setup.settings), job);
  const held = {
    support: new Float64Array(100).fill(50),
    contact: new Float64Array(100),
    places: new Float64Array(100).fill(1),
  };
  const totals = layerTotals(planLayers(brick, job.setup.settings, printer, held), pla, printer);
  expect(totals.grams).toBeGreaterThan(totals.pieceGrams);
  expect(totals.pieceGrams).toBeCloseTo(mass.printed, 9);
});
