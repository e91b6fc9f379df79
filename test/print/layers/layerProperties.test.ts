import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { meshVolume } from "../../../src/geometry/measure";
import { layerTotals } from "../../../src/print/layers/filament";
import { pathKinds, timeKinds } from "../../../src/print/layers/layerPlan";
import { planLayers } from "../../../src/print/layers/planLayers";
import type { PlacedPiece } from "../../../src/print/placedPiece";
import { torus, turned } from "../../checks/shapes";
import { pla, placed, printer, settings, total } from "./bodies";

const seed = 20_273;
const runs = { seed, numRuns: 25, endOnFailure: true };

/** A vase of any outline or a ring, 24 to 60 mm high before it is tilted; as numbers, so that failures can be read. */
const anyPiece = fc.record({
  body: fc.oneof(
    fc.array(fc.double({ min: 3, max: 24, noNaN: true }), { minLength: 3, maxLength: 7 }),
    fc.record({
      middle: fc.double({ min: 14, max: 40, noNaN: true }),
      section: fc.double({ min: 3, max: 12, noNaN: true }),
    }),
  ),
  tilt: fc.double({ min: 0, max: 180, noNaN: true }),
  towards: fc.double({ min: -180, max: 180, noNaN: true }),
});

type Piece = typeof anyPiece extends fc.Arbitrary<infer Value> ? Value : never;

function pieceOf({ body, tilt, towards }: Piece): PlacedPiece {
  if (!Array.isArray(body)) return placed(torus(body.middle, body.section, 60, 24), tilt, towards);
  const wall = body.map((radius, i): [number, number] => [radius, 8 * i]);
  return placed(turned([[0, 0], ...wall, [0, 8 * (body.length - 1)]], 40), tilt, towards);
}

const grams = (piece: PlacedPiece, change: Partial<typeof settings>) =>
  layerTotals(planLayers(piece, { ...settings, ...change }, printer), pla, printer).grams;

describe(`of any body, lying any way (seed ${seed})`, () => {
  it("the plan of a solid print weighs as much as the body, within half a per cent", () => {
    fc.assert(
      fc.property(anyPiece, (spec) => {
        const piece = pieceOf(spec);
        const plan = planLayers(piece, { ...settings, infill: 100 }, printer);
        expect(total(plan.pieceVolume) / meshVolume(piece.mesh)).toBeGreaterThan(0.995);
        expect(total(plan.pieceVolume) / meshVolume(piece.mesh)).toBeLessThan(1.005);
      }),
      runs,
    );
  });

  it("nothing is less than zero, and nothing is no number", () => {
    fc.assert(
      fc.property(
        anyPiece,
        fc.integer({ min: 1, max: 30 }),
        fc.integer({ min: 0, max: 60 }),
        fc.integer({ min: 0, max: 100 }),
        (spec, shells, skins, infill) => {
          const piece = pieceOf(spec);
          const change = { shells, topLayers: skins, bottomLayers: skins, infill, brimWidth: 3 };
          const plan = planLayers(piece, { ...settings, ...change }, printer);
          for (const kind of pathKinds) {
            for (const value of plan.lengths[kind]) expect(value >= 0 && value < Infinity, kind).toBe(true);
          }
          for (const kind of timeKinds) {
            for (const value of plan.seconds[kind]) expect(value >= 0 && value < Infinity, kind).toBe(true);
          }
          for (const value of plan.travel) expect(value >= 0 && value < Infinity).toBe(true);
        },
      ),
      runs,
    );
  });

  it("samples 1 mm apart give the grams and hours of every layer looked at, within 0.3 %", () => {
    fc.assert(
      fc.property(anyPiece, (spec) => {
        const piece = pieceOf(spec);
        const [some, all] = [1, 1e-3].map((sampleEvery) =>
          layerTotals(planLayers(piece, settings, printer, undefined, { sampleEvery }), pla, printer),
        );
        expect(Math.abs(some.grams / all.grams - 1)).toBeLessThan(0.003);
        expect(Math.abs(some.hours / all.hours - 1)).toBeLessThan(0.003);
      }),
      runs,
    );
  });

  it("grams grow with infill", () => {
    fc.assert(
      fc.property(anyPiece, fc.integer({ min: 0, max: 90 }), (spec, infill) => {
        const piece = pieceOf(spec);
        expect(grams(piece, { infill: infill + 10 })).toBeGreaterThan(grams(piece, { infill }) - 1e-9);
      }),
      runs,
    );
  });

  // The parts of a layer are measured along lines a line width apart where curves cross: that much may they fail by.
  it("grams grow with shells, but for a thousandth", () => {
    fc.assert(
      fc.property(anyPiece, fc.integer({ min: 1, max: 6 }), (spec, shells) => {
        const piece = pieceOf(spec);
        expect(grams(piece, { shells: shells + 1 })).toBeGreaterThan(0.999 * grams(piece, { shells }));
      }),
      runs,
    );
  });

  // Where no skin is filled, what melts is no limit and nothing waits: then all paths are shorter by the same share.
  it("hours fall as layers get higher", () => {
    const free = { ...printer, flowLimit: 1e6 };
    const bare = { ...settings, topLayers: 0, bottomLayers: 0, leastLayerTime: 0 };
    fc.assert(
      fc.property(anyPiece, fc.double({ min: 0.08, max: 0.3, noNaN: true }), (spec, layerHeight) => {
        const piece = pieceOf(spec);
        const hours = (height: number) =>
          layerTotals(planLayers(piece, { ...bare, layerHeight: height }, free), pla, free).hours;
        expect(hours(layerHeight * 1.25)).toBeLessThan(hours(layerHeight));
      }),
      runs,
    );
  });
});
