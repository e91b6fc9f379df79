import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { finishing } from "../../src/print/finishing";
import { defaultPrintSettings } from "../../src/printSettings";
import { ellipsoid } from "../checks/shapes";

const settings = { primerCoverage: 8, primerCoats: 2, paintCoverage: 10, paintCoats: 3 };

describe("finishing", () => {
  it("agrees with a calculation by hand", () => {
    // 120,000 mm² = 1200 cm² = 0.12 m². Primer: 0.12 / 8 = 0.015 l a coat, two coats 30 ml. Paint: 0.12 / 10 = 0.012 l a
    // coat, three coats 36 ml. Scars: 900 + 350 mm² = 12.5 cm².
    const result = finishing({ surface: 120_000, contactArea: 900, landingArea: 350, settings });
    expect(result.paintAreaCm2).toBeCloseTo(1200, 10);
    expect(result.primerMl).toBeCloseTo(30, 10);
    expect(result.paintMl).toBeCloseTo(36, 10);
    expect(result.scarCm2).toBeCloseTo(12.5, 10);
  });

  it("leaves out the walls of voids and, where it is given, what faces the head", () => {
    const result = finishing({
      surface: 120_000,
      enclosed: 20_000,
      inner: 40_000,
      contactArea: 0,
      landingArea: 0,
      settings,
    });
    expect(result.paintAreaCm2).toBeCloseTo(600, 10);
    expect(result.primerMl).toBeCloseTo(15, 10);
    expect(result.basis).toContain("inner surface is left bare");
  });

  it("of an ellipsoid with axes 100, 77 and 120 mm: 1224 cm² (its surface: 122,441.608 mm²)", () => {
    const { area } = massProperties(ellipsoid(100, 77, 120, 200, 300));
    const result = finishing({
      surface: area,
      contactArea: 0,
      landingArea: 0,
      settings: defaultPrintSettings,
    });
    expect(result.paintAreaCm2).toBeCloseTo(1224.416, 0);
    // 0.122441608 m² / 8 m²/l × 2 coats = 30.61 ml; / 10 × 2 = 24.49 ml.
    expect(result.primerMl).toBeCloseTo(30.61, 1);
    expect(result.paintMl).toBeCloseTo(24.49, 1);
  });

  it("says what it was reckoned from", () => {
    const { basis } = finishing({
      surface: 1,
      contactArea: 0,
      landingArea: 0,
      settings: { ...settings, primerCoats: 1 },
    });
    expect(basis).toContain("1 coat at 8 m² a litre");
    expect(basis).toContain("3 coats at 10 m² a litre");
    expect(basis).not.toContain("inner");
  });

  it("takes nothing where there are no coats", () => {
    const none = { ...settings, primerCoats: 0, paintCoats: 0 };
    const result = finishing({ surface: 5000, contactArea: 0, landingArea: 0, settings: none });
    expect([result.primerMl, result.paintMl]).toEqual([0, 0]);
  });

  it("refuses what cannot be, and names it", () => {
    const base = { surface: 100, contactArea: 0, landingArea: 0, settings };
    expect(() => finishing({ ...base, surface: Number.NaN })).toThrow(/"surface" is NaN/);
    expect(() => finishing({ ...base, contactArea: -1 })).toThrow(/"contactArea" is -1/);
    expect(() => finishing({ ...base, inner: 60, enclosed: 50 })).toThrow(/more than the 100 mm²/);
    expect(() => finishing({ ...base, settings: { ...settings, paintCoverage: 0 } })).toThrow(
      /paint covers 0/,
    );
    expect(() => finishing({ ...base, settings: { ...settings, primerCoats: -1 } })).toThrow(/-1 coats/);
  });
});
