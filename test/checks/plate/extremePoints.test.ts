import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { extremePoints } from "../../../src/checks/plate/extremePoints";
import { box, ellipsoid, together, torus } from "../shapes";

/** Farthest reach of points along a direction. */
function reach(points: ArrayLike<number>, direction: readonly number[]): number {
  let most = -Infinity;
  for (let i = 0; i < points.length; i += 3) {
    most = Math.max(
      most,
      points[i] * direction[0] + points[i + 1] * direction[1] + points[i + 2] * direction[2],
    );
  }
  return most;
}

const directions = Array.from({ length: 2000 }, (_, i) => {
  const z = 1 - (2 * i + 1) / 2000;
  const angle = i * Math.PI * (3 - Math.sqrt(5));
  return [Math.sqrt(1 - z * z) * Math.cos(angle), Math.sqrt(1 - z * z) * Math.sin(angle), z];
});

describe("extremePoints", () => {
  it("keeps the corners of boxes and drops what lies inside", () => {
    const outer = box([-10, -20, -30], [10, 20, 30]);
    expect(extremePoints(together(outer, box([-1, -2, -3], [1, 2, 3])).positions)).toHaveLength(24);
  });

  it("is short of a headpiece's round surfaces by less than 0.1 mm at the finer depth, and smaller", () => {
    for (const mesh of [ellipsoid(100, 77, 120, 90, 120), torus(100, 6, 160, 40)]) {
      const few = extremePoints(mesh.positions, 5);
      expect(few.length).toBeLessThan(mesh.positions.length);
      for (const direction of directions) {
        expect(reach(mesh.positions, direction) - reach(few, direction)).toBeLessThan(0.1);
      }
    }
  });

  it("keeps every extent of clouds whose corners are not flat", () => {
    const coordinate = fc.integer({ min: -100, max: 100 });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(coordinate, coordinate, coordinate), { minLength: 1, maxLength: 25 }),
        (cloud) => {
          const points = cloud.flat();
          const few = extremePoints(points, 5);
          for (let i = 0; i < directions.length; i += 7) {
            // A corner flatter than 2.5° may go: 350 mm across, that is at most 350·tan(2.5°)/2.
            expect(reach(points, directions[i]) - reach(few, directions[i])).toBeLessThan(7.7);
          }
        },
      ),
      { seed: 23, numRuns: 60 },
    );
  });

  it("takes no points, one point and the same point often", () => {
    expect(extremePoints([])).toHaveLength(0);
    expect([...extremePoints([1, 2, 3])]).toEqual([1, 2, 3]);
    expect([...extremePoints([1, 2, 3, 1, 2, 3, 1, 2, 3])]).toEqual([1, 2, 3]);
  });
});
