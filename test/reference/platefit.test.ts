import { describe, expect, it } from "vitest";
import { plateFit } from "../../src/checks/plateFit";
import { box } from "../checks/shapes";

const rectangular = (width: number, depth: number, height: number) => ({
  plate: { shape: "rectangular" as const, width, depth },
  height,
});
const round = (diameter: number, height: number) => ({
  plate: { shape: "round" as const, diameter },
  height,
});
const rad = Math.PI / 180;

/** A rod without thickness along a direction. */
const rod = (length: number, x: number, y: number, z: number): number[] => [
  0,
  0,
  0,
  length * x,
  length * y,
  length * z,
];

const disc = (diameter: number): number[] =>
  Array.from({ length: 1440 }, (_, i) => [
    (diameter / 2) * Math.cos((i * Math.PI) / 720),
    (diameter / 2) * Math.sin((i * Math.PI) / 720),
    0,
  ]).flat();

describe("plate fit against closed forms", () => {
  // Pythagoras: a rod's shadow is l·cos(tilt) and must not exceed the plate's diagonal.
  it("a level rod longer than the plate's diagonal", () => {
    const fit = plateFit(rod(300, 0.6, 0.8, 0), rectangular(180, 180, 180));
    expect(fit.fits).toBe(true);
    expect(Math.abs(fit.tilt - Math.acos((180 * Math.SQRT2) / 300) / rad)).toBeLessThan(0.05);
  });

  it("an upright rod taller than the printer", () => {
    const fit = plateFit(rod(300, 0, 0, 1), rectangular(180, 180, 250));
    expect(fit.fits).toBe(true);
    expect(Math.abs(fit.tilt - Math.acos(250 / 300) / rad)).toBeLessThan(0.05);
  });

  it("a rod fits exactly up to the space diagonal", () => {
    const longest = Math.hypot(180, 200, 150);
    expect(plateFit(rod(longest - 0.1, 1, 0, 0), rectangular(180, 200, 150)).fits).toBe(true);
    const tooLong = plateFit(rod(longest + 10, 1, 0, 0), rectangular(180, 200, 150));
    expect(tooLong.fits).toBe(false);
    // At the best, all three sides are passed by the same x: (180+x)² + (200+x)² + (150+x)² = (longest+10)².
    const x = tooLong.excess;
    expect(Math.abs(Math.hypot(180 + x, 200 + x, 150 + x) - longest - 10)).toBeLessThan(0.05);
  });

  // Carver 1957, "The game of rectangles", American Mathematical Monthly 64 [from memory]: p × q (p > a) lies in
  // a × b exactly if b ≥ (2pqa + (p² − q²)·√(p² + q² − a²)) / (p² + q²).
  it("a plank laid slantwise in a rectangle", () => {
    const [p, q, a] = [250, 20, 220];
    const b = (2 * p * q * a + (p * p - q * q) * Math.sqrt(p * p + q * q - a * a)) / (p * p + q * q);
    const plank = box([0, 0, 0], [p, q, 1]).positions;
    const fit = plateFit(plank, rectangular(b + 0.01, a, 200));
    expect([fit.fits, fit.tilt]).toEqual([true, 0]);
    expect(plateFit(plank, rectangular(b - 0.05, a, 1)).fits).toBe(false);
  });

  it("a cube on a round plate needs a√2", () => {
    const cube = box([0, 0, 0], [100, 100, 100]).positions;
    const fit = plateFit(cube, round(100 * Math.SQRT2 + 0.001, 100));
    expect([fit.fits, fit.tilt]).toEqual([true, 0]);
    const tight = plateFit(cube, round(100 * Math.SQRT2 - 1, 100));
    expect(tight.fits).toBe(false);
    expect(tight.excess).toBeGreaterThan(0);
    expect(tight.excess).toBeLessThan(1.001);
  });

  // A tilted disc's shadow is an ellipse; turned by 45° its box is a square of d·√((1 + cos² tilt) / 2).
  it("a disc wider than a square plate", () => {
    const fit = plateFit(disc(300), rectangular(256, 256, 256));
    expect(fit.fits).toBe(true);
    expect(Math.abs(fit.tilt - Math.acos(Math.sqrt(2 * (256 / 300) ** 2 - 1)) / rad)).toBeLessThan(0.1);
    expect(plateFit(disc(300), rectangular(300, 300, 1))).toMatchObject({ fits: true, tilt: 0, turn: 0 });
    // On a round plate its width across the tilt stays: no tilt helps.
    const never = plateFit(disc(300), round(290, 400));
    expect(never.fits).toBe(false);
    expect(Math.abs(never.excess - 10)).toBeLessThan(0.01);
  });
});
