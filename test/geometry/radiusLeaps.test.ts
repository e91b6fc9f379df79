import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { meshVolume, tubeVolumeAndLength } from "../../src/geometry/measure";
import { sweepTube } from "../../src/geometry/sweep";
import { aroundHead, meshFault, seed, tube } from "./tubes";

/** A radius that leaps over a short stretch: bulrushes, beads, collars. */
const leaping = (radiusAt: (share: number) => number, knots: number) => {
  const shares = Array.from({ length: knots + 1 }, (_, i) => i / knots);
  return { shares, radii: shares.map(radiusAt) };
};
const straight = {
  kind: "through",
  points: [
    [0, 0, 0],
    [0, 0, 120],
  ],
  closed: false,
} as const;
const around = { kind: "through", points: aroundHead, closed: false } as const;

describe("a radius that leaps", () => {
  it("a bulrush: the smallest case", () => {
    const radius = leaping((share) => (share > 0.62 && share < 0.92 ? 5.4 : 2.3), 120);
    const shape = tube({ path: straight, radius });
    const mesh = sweepTube(shape);
    expect(meshFault(mesh)).toBeUndefined();
    expect(Math.abs(meshVolume(mesh) / tubeVolumeAndLength(shape).volume - 1)).toBeLessThan(0.003);
  });

  it("steps and ridges of any kind keep their volume", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 3, max: 6, noNaN: true }),
        fc.double({ min: 1.5, max: 3, noNaN: true }),
        fc.integer({ min: 1, max: 12 }),
        fc.integer({ min: 40, max: 400 }),
        fc.boolean(),
        (thin, times, steps, knots, bent) => {
          const radius = leaping((share) => (Math.floor(share * 2 * steps) % 2 ? thin * times : thin), knots);
          const shape = tube({ path: bent ? around : straight, radius });
          const mesh = sweepTube(shape);
          expect(meshFault(mesh)).toBeUndefined();
          expect(Math.abs(meshVolume(mesh) / tubeVolumeAndLength(shape).volume - 1)).toBeLessThan(0.005);
        },
      ),
      { seed, numRuns: 60 },
    );
  });
});
