import { describe, expect, it } from "vitest";
import { filamentLength } from "../../src/print/layers/filamentLength";

describe("printing figures", () => {
  // Densities: published tables of filament makers (PLA 1.24, PETG 1.27, ABS 1.04 g/cm³), second hand. Metres a
  // kilogram follow from the cylinder's volume: 1 m of 1.75 mm holds 2.405 cm³.
  it.each([
    ["PLA", 1.24, 335.3],
    ["PETG", 1.27, 327.4],
    ["ABS", 1.04, 399.8],
  ])("a kilogram of %s at 1.75 mm", (_, density, metres) => {
    expect(filamentLength(1000, density, 1.75)).toBeCloseTo(metres, 1);
  });

  it("a metre of 1.75 mm holds 2.405 cm³", () => {
    expect(1 / filamentLength(1, 1, 1.75)).toBeCloseTo(2.405, 3);
  });

  // ±0.05 mm on 1.75 mm is ±5.7 % of area (the square of the diameter).
  it("the diameter's tolerance counts twice", () => {
    expect(filamentLength(1, 1, 1.75) / filamentLength(1, 1, 1.8) - 1).toBeCloseTo(
      -(1 - 1.8 ** 2 / 1.75 ** 2),
      10,
    );
  });

  it.each([
    [0, 1.75],
    [Number.NaN, 1.75],
    [1.24, 0],
  ])("refuses a density of %s or a diameter of %s", (density, diameter) => {
    expect(() => filamentLength(1, density, diameter)).toThrow(RangeError);
  });
});
