import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { radiusProfile } from "../../src/geometry/radius";
import { seed } from "./tubes";

const knots = fc.uniqueArray(fc.integer({ min: 1, max: 99 }), { minLength: 1, maxLength: 6 }).chain((inner) =>
  fc.record({
    shares: fc.constant([0, ...[...inner].sort((a, b) => a - b).map((k) => k / 100), 1]),
    radii: fc.array(fc.integer({ min: 1, max: 30 }), {
      minLength: inner.length + 2,
      maxLength: inner.length + 2,
    }),
  }),
);

describe("radius along the path", () => {
  it("is constant for one knot and beyond the outer knots", () => {
    expect(radiusProfile({ shares: [0.5], radii: [7] }).at(0.1)).toBe(7);
    const inner = radiusProfile({ shares: [0.2, 0.8], radii: [3, 6] });
    expect([inner.at(0), inner.at(0.2), inner.at(1)]).toEqual([3, 3, 6]);
  });

  it("is exactly linear through knots on a line", () => {
    const line = radiusProfile({ shares: [0, 0.1, 0.55, 1], radii: [10, 9.2, 5.6, 2] });
    for (let i = 0; i <= 20; i++) expect(line.at(i / 20)).toBeCloseTo(10 - (8 * i) / 20, 12);
  });

  it("passes its knots, never overshoots and has the slope that it says", () => {
    fc.assert(
      fc.property(knots, (data) => {
        const radius = radiusProfile(data);
        data.shares.forEach((share, i) => {
          expect(radius.at(share)).toBeCloseTo(data.radii[i], 9);
        });
        for (let i = 0; i + 1 < data.shares.length; i++) {
          const [a, b] = [data.shares[i], data.shares[i + 1]];
          const [low, high] = [
            Math.min(data.radii[i], data.radii[i + 1]),
            Math.max(data.radii[i], data.radii[i + 1]),
          ];
          for (let k = 1; k < 8; k++) {
            const share = a + ((b - a) * k) / 8;
            expect(radius.at(share)).toBeGreaterThanOrEqual(low - 1e-9);
            expect(radius.at(share)).toBeLessThanOrEqual(high + 1e-9);
            const h = (b - a) * 1e-5;
            const slope = (radius.at(share + h) - radius.at(share - h)) / (2 * h);
            expect(radius.slopeAt(share)).toBeCloseTo(slope, 3);
          }
        }
      }),
      { seed, numRuns: 100 },
    );
  });

  it.each([
    [{ shares: [0, 1], radii: [5, -1] }, /-1 mm/],
    [{ shares: [0, 0.5, 1], radii: [5, 0, 5] }, /0 mm/],
    [{ shares: [0, 1], radii: [0, 0] }, /every radius/],
    [{ shares: [0, 1], radii: [5] }, /1 values at 2 shares/],
    [{ shares: [0, 0], radii: [5, 6] }, /0, 0/],
    [{ shares: [0], radii: [Number.NaN] }, /NaN/],
  ])("refuses %j", (data, message) => {
    expect(() => radiusProfile(data)).toThrow(message);
  });
});
