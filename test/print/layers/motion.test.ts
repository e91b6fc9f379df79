import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { printSpeed, runTime } from "../../../src/print/layers/motion";

const seed = 20_272;

/** Time by small steps of length: at each place the greatest speed that both ends allow. */
function slowTime(length: number, from: number, to: number, top: number, a: number): number {
  const steps = 40_000;
  let time = 0;
  for (let i = 0; i < steps; i++) {
    const s = ((i + 0.5) / steps) * length;
    const speed = Math.min(
      top,
      Math.sqrt(from * from + 2 * a * s),
      Math.sqrt(to * to + 2 * a * (length - s)),
    );
    time += length / steps / speed;
  }
  return time;
}

describe("time of a run", () => {
  it("by hand: a trapezoid", () => {
    // To 60 mm/s at 1000 mm/s²: 0.06 s over 1.8 mm, twice; the other 96.4 mm take 1.60667 s.
    expect(runTime(100, 0, 0, 60, 1000)).toBeCloseTo(0.06 + 0.06 + 96.4 / 60, 12);
    // From 10 to 20 mm/s: 0.05 s over 1.75 mm, 0.04 s over 1.6 mm.
    expect(runTime(100, 10, 20, 60, 1000)).toBeCloseTo(0.05 + 0.04 + (100 - 1.75 - 1.6) / 60, 12);
  });

  it("by hand: a triangle, where the run is too short", () => {
    // Half of 1.6 mm to 40 mm/s: 0.04 s up, 0.04 s down.
    expect(runTime(1.6, 0, 0, 60, 1000)).toBeCloseTo(0.08, 12);
  });

  it("by hand: too short to brake or to speed up: the slower end decides", () => {
    // v = √(2 · 1000 · 0.2) = 20 mm/s after 0.02 s.
    expect(runTime(0.2, 0, 50, 60, 1000)).toBeCloseTo(0.02, 12);
    expect(runTime(0.2, 50, 0, 60, 1000)).toBeCloseTo(0.02, 12);
  });

  it("of nothing is nothing; ends are never over the top speed", () => {
    expect(runTime(0, 0, 0, 60, 1000)).toBe(0);
    expect(runTime(30, 90, 90, 60, 1000)).toBeCloseTo(0.5, 12);
  });

  it(`is that of small steps (seed ${seed})`, () => {
    const speed = fc.double({ min: 0.5, max: 60, noNaN: true });
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 50, noNaN: true }), speed, speed, (length, from, to) => {
        const fast = runTime(length, from, to, 60, 1000);
        expect(Math.abs(fast / slowTime(length, from, to, 60, 1000) - 1)).toBeLessThan(2e-3);
      }),
      { seed, numRuns: 60, endOnFailure: true },
    );
  });

  it("refuses what makes no sense", () => {
    expect(() => runTime(-1, 0, 0, 60, 1000)).toThrow("A run is -1 mm long");
    expect(() => runTime(NaN, 0, 0, 60, 1000)).toThrow(RangeError);
    expect(() => runTime(1, 0, 0, 0, 1000)).toThrow(RangeError);
    expect(() => runTime(1, 0, 0, 60, NaN)).toThrow(RangeError);
  });
});

it("what melts limits the speed: 9 mm³/s over 0.45 × 0.2 mm are 100 mm/s", () => {
  expect(printSpeed(150, 9, 0.45, 0.2)).toBeCloseTo(100, 12);
  expect(printSpeed(80, 9, 0.45, 0.2)).toBe(80);
});
