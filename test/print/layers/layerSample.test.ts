import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  difference,
  inset,
  intersection,
  regionArea,
  regionOf,
  regionPerimeter,
} from "../../../src/geometry/regions";
import type { Loop } from "../../../src/geometry/slices";
import { layerSample } from "../../../src/print/layers/layerSample";

const seed = 20_274;
const settings = { shells: 3, lineWidth: 0.45 };

const anyOutline = fc.array(fc.double({ min: 6, max: 16, noNaN: true }), { minLength: 5, maxLength: 24 }).map(
  (radii): Loop =>
    Float64Array.from(
      radii.flatMap((radius, i) => {
        const angle = (2 * Math.PI * i) / radii.length;
        return [radius * Math.cos(angle), radius * Math.sin(angle)];
      }),
    ),
);

describe(`a layer looked at closely, along lines, against the clipping library (seed ${seed})`, () => {
  it("shells, core and what the skins leave uncovered", () => {
    fc.assert(
      fc.property(anyOutline, anyOutline, anyOutline, (outline, above, below) => {
        const fast = layerSample(7, [outline], { above: [above], below: [below] }, settings, 0.05);
        const whole = regionOf([outline]);
        const [area, perimeter] = [regionArea(whole), regionPerimeter(whole)];
        const [first, core] = [inset(whole, 0.45), inset(whole, 1.35)];
        const covered = intersection(intersection(core, regionOf([above])), regionOf([below]));
        const near = (value: number, expected: number) =>
          expect(Math.abs(value - expected), `${value} against ${expected}`).toBeLessThan(0.005 * area);
        near(fast.outer * perimeter * 0.45, area - regionArea(first));
        near(fast.inner * perimeter * 0.45, regionArea(first) - regionArea(core));
        near(fast.core * area, regionArea(core));
        near(fast.solid * area, regionArea(difference(core, covered)));
      }),
      { seed, numRuns: 100, endOnFailure: true },
    );
  });

  it("under a roof, on the plate: all that the shells leave is filled in full; without skins nothing is", () => {
    const square = Float64Array.of(0, 0, 20, 0, 20, 20, 0, 20);
    const core = 17.3 * 17.3;
    const roof = layerSample(0, [square], { above: [], below: [square] }, settings, 0.45);
    expect(roof.solid * 400).toBeCloseTo(core, 9);
    expect(roof.solidOutline * 80).toBeCloseTo(4 * 17.3, 9);
    expect(roof.sparseOutline).toBe(0);
    const open = layerSample(0, [square], { above: undefined, below: undefined }, settings, 0.45);
    expect(open.solid).toBe(0);
    expect(open.sparseOutline * 80).toBeCloseTo(4 * 17.3, 9);
  });

  it("of nothing is nothing", () => {
    const empty = layerSample(3, [], { above: undefined, below: undefined }, settings, 0.45);
    expect([empty.outer, empty.inner, empty.core, empty.solid, empty.loops]).toEqual([0, 0, 0, 0, 0]);
  });
});
