import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { dominates, evenly, paretoFront } from "../../../src/print/whatIf/pareto";

const seed = 20_261_126;

describe("what nothing betters", () => {
  it("is, by hand, the lower left of a staircase", () => {
    const points = [
      [1, 9],
      [2, 9],
      [3, 4],
      [5, 4],
      [4, 3],
      [9, 1],
      [9, 1],
      [9, 9],
    ];
    expect(paretoFront(points, (point) => point)).toEqual([
      [1, 9],
      [3, 4],
      [4, 3],
      [9, 1],
      [9, 1],
    ]);
  });

  it(`agrees with comparing every pair (seed ${seed})`, () => {
    const coordinate = fc.integer({ min: 0, max: 6 });
    fc.assert(
      fc.property(fc.array(fc.tuple(coordinate, coordinate, coordinate), { maxLength: 60 }), (points) => {
        const slow = points.filter((point) => !points.some((other) => dominates(other, point)));
        expect(paretoFront(points, (point) => point)).toEqual(slow);
      }),
      { seed, numRuns: 200 },
    );
  });

  it("refuses what is no number", () => {
    expect(() => paretoFront([[1, Number.NaN]], (point) => point)).toThrow(RangeError);
  });
});

describe("some of a list", () => {
  it("keeps first and last", () => {
    expect(evenly([1, 2, 3, 4, 5, 6, 7], 3)).toEqual([1, 4, 7]);
    expect(evenly([1, 2], 3)).toEqual([1, 2]);
    expect(evenly([1, 2, 3], 1)).toEqual([1]);
    expect(evenly([1, 2, 3], 0)).toEqual([]);
  });
});
