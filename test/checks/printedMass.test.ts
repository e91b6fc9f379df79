import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printedMass, volumeInsideShells } from "../../src/checks/printedMass";

const plastic = { name: "PLA", density: 1.24 };
const body = { volume: 50_000, area: 30_000 };

describe("printedMass", () => {
  it("is solid at 100 % infill and a shell only at none", () => {
    const full = printedMass(body, plastic, { shells: 2, lineWidth: 0.4, infill: 100 });
    expect(full.printed).toBeCloseTo(full.solid, 10);
    const hollow = printedMass(body, plastic, { shells: 2, lineWidth: 0.4, infill: 0 });
    expect(hollow.filledShare).toBeCloseTo(1 - (1 - (30_000 * 0.8) / 100_000) ** 2, 12);
  });

  it("never leaves less than nothing inside thin tubes", () => {
    expect(volumeInsideShells(100, 400, 5)).toBe(0);
    const thin = printedMass({ volume: 100, area: 400 }, plastic, { shells: 3, lineWidth: 0.42, infill: 10 });
    expect(thin.printed).toBeCloseTo(thin.solid, 10);
  });

  it("grows with shells and infill, and never beyond solid", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 8 }),
        fc.double({ min: 0.2, max: 1.2, noNaN: true }),
        fc.integer({ min: 0, max: 99 }),
        (shells, lineWidth, infill) => {
          const at = (s: number, i: number): number =>
            printedMass(body, plastic, { shells: s, lineWidth, infill: i }).printed;
          const here = at(shells, infill);
          expect(at(shells + 1, infill)).toBeGreaterThanOrEqual(here);
          expect(at(shells, infill + 1)).toBeGreaterThanOrEqual(here);
          expect(here).toBeLessThanOrEqual((body.volume / 1000) * plastic.density * (1 + 1e-12));
        },
      ),
      { seed: 7 },
    );
  });

  it("refuses settings out of range, with the value", () => {
    const settings = { shells: 2, lineWidth: 0.4, infill: 15 };
    expect(() => printedMass(body, plastic, { ...settings, infill: 120 })).toThrow(/infill is 120 %/);
    expect(() => printedMass(body, plastic, { ...settings, shells: -1 })).toThrow(/shells is -1/);
    expect(() => printedMass(body, plastic, { ...settings, lineWidth: 0 })).toThrow(/line width is 0 mm/);
    expect(() => printedMass({ volume: -5, area: 1 }, plastic, settings)).toThrow(/-5 mm³/);
    expect(() => printedMass(body, { name: "air", density: 0 }, settings)).toThrow(/density is 0/);
    expect(() => printedMass(body, plastic, settings, 0)).toThrow(/filament is 0 mm/);
  });
});
