import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { filamentLength, printedMass, volumeInsideShells } from "../../src/checks/printedMass";
import { torus } from "../checks/shapes";

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

  // Pappus again: what lies inside the shells of a ring of round section is the ring of the smaller section.
  it("the inside of a round ring within shells is the thinner ring", () => {
    const { volume, area } = massProperties(torus(80, 5, 720, 240));
    const inner = massProperties(torus(80, 5 - 1.26, 720, 240)).volume;
    expect(volumeInsideShells(volume, area, 3 * 0.42) / inner).toBeCloseTo(1, 3);
  });

  it("prints that ring with 3 shells and 15 % infill at the mass worked out by hand", () => {
    const estimate = printedMass(
      { volume: 39_478.4176, area: 15_791.367 },
      { name: "PLA", density: 1.24 },
      { shells: 3, lineWidth: 0.42, infill: 15 },
    );
    // Inside: (1 − 1.26/5)² = 0.559504 of the volume, of which 85 % stays empty.
    const filled = 1 - 0.559504 * 0.85;
    expect(estimate.solid).toBeCloseTo(39.4784176 * 1.24, 6);
    expect(estimate.printed).toBeCloseTo(39.4784176 * 1.24 * filled, 4);
    expect(estimate.filament).toBeCloseTo((39.4784176 * filled) / 2.4052818, 4);
    expect(estimate.basis).toMatch(/^First estimate.*3 shells of 0.42 mm.*15 % infill.*PLA of 1.24 g\/cm³/);
  });
});
