import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { maximise } from "../../../src/checks/balance/linearProgramme";

const none = [0, 0];
const endless = [Infinity, Infinity];

describe("maximise", () => {
  it("solves the textbook's programme of two goods and three shops", () => {
    // Hillier & Lieberman, Introduction to Operations Research, ch. 3 (from memory): 3x + 5y is at most 36, at (2, 6).
    const found = maximise({ gain: [3, 5], least: none, most: endless }, [
      { terms: [-1, 0], least: -4 },
      { terms: [0, -2], least: -12 },
      { terms: [-3, -2], least: -18 },
    ]);
    expect(found?.value).toBeCloseTo(36, 4);
    expect([...(found?.x ?? [])].map((value) => Math.round(1e4 * value) / 1e4)).toEqual([2, 6]);
  });

  it("comes out of the corner in which the simplex method may go round for ever", () => {
    // Beale 1955, Cycling in the dual simplex algorithm (from memory): the greatest sum is 1/20.
    const found = maximise(
      { gain: [0.75, -150, 0.02, -6], least: [0, 0, 0, 0], most: [Infinity, Infinity, Infinity, Infinity] },
      [
        { terms: [-0.25, 60, 0.04, -9], least: 0 },
        { terms: [-0.5, 90, 0.02, -3], least: 0 },
        { terms: [0, 0, -1, 0], least: -1 },
      ],
    );
    expect(found?.value).toBeCloseTo(0.05, 4);
  });

  it("says where there is no answer and where there is no end", () => {
    expect(
      maximise({ gain: [1, 0], least: none, most: [1, 1] }, [{ terms: [1, 1], least: 3 }]),
    ).toBeUndefined();
    expect(maximise({ gain: [1, 0], least: none, most: endless }, [])).toBeUndefined();
  });

  it("agrees with all corners tried one by one, with bounds on both sides and tolls", () => {
    const seed = 7;
    console.log(`linear programme: seed ${seed}`);
    const number = fc.integer({ min: -9, max: 9 });
    fc.assert(
      fc.property(
        fc.tuple(number, number),
        fc.tuple(fc.integer({ min: 0, max: 5 }), fc.integer({ min: 0, max: 5 })),
        fc.array(fc.tuple(number, number, fc.integer({ min: -20, max: 0 })), { minLength: 1, maxLength: 6 }),
        (gain, toll, conditions) => {
          const found = maximise(
            { gain, toll, least: [-4, -6], most: [5, 3] },
            conditions.map(([a, b, least]) => ({ terms: [a, b], least })),
          );
          // With tolls the sum is linear in each quarter: its corners lie on the axes too.
          const lines = [...conditions, [1, 0, -4], [-1, 0, -5], [0, 1, -6], [0, -1, -3]];
          const edges = [...lines, [1, 0, 0], [0, 1, 0]];
          let best = -Infinity;
          for (const [a, b, p] of edges) {
            for (const [c, d, q] of edges) {
              const determinant = a * d - b * c;
              if (determinant === 0) continue;
              const [x, y] = [(p * d - b * q) / determinant, (a * q - p * c) / determinant];
              if (!lines.every(([e, f, least]) => e * x + f * y >= least - 1e-9)) continue;
              const value = gain[0] * x + gain[1] * y - toll[0] * Math.abs(x) - toll[1] * Math.abs(y);
              best = Math.max(best, value);
            }
          }
          expect(Math.abs((found?.value ?? NaN) - best)).toBeLessThan(1e-4);
        },
      ),
      { seed, numRuns: 500 },
    );
  });
});
