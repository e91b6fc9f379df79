import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { scanLines } from "../../src/geometry/lineScan";
import { loopArea, loopLength, simplifiedLoop } from "../../src/geometry/loops";
import { rawInset } from "../../src/geometry/rawOffset";
import { inset, regionArea, regionOf } from "../../src/geometry/regions";
import type { Loop } from "../../src/geometry/slices";

const seed = 20_271;
const rectangle = (x0: number, y0: number, x1: number, y1: number) =>
  Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);

/** Area of what the raw curves wind around at least once, the fast way: shoelace, corrected along lines. */
function insetArea(loops: readonly Loop[], by: number, spacing: number): number {
  const raw = loops.map((loop) => rawInset(loop, by));
  let area = raw.reduce((sum, loop) => sum + loopArea(loop), 0);
  scanLines([raw], spacing, (length, windings) => {
    area += spacing * length * ((windings[0] > 0 ? 1 : 0) - windings[0]);
  });
  return area;
}

/** A closed outline about the origin, as wild as its radii. */
const star = (radii: readonly number[]): Loop =>
  Float64Array.from(
    radii.flatMap((radius, i) => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [radius * Math.cos(angle), radius * Math.sin(angle)];
    }),
  );
const anyStar = fc
  .array(fc.double({ min: 2, max: 14, noNaN: true }), { minLength: 4, maxLength: 40 })
  .map(star);

describe("insets from raw curves", () => {
  it("are exact where nothing is too thin, whatever the lines", () => {
    expect(insetArea([rectangle(0, 0, 40, 30)], 1.35, 3.7)).toBeCloseTo(37.3 * 27.3, 9);
    const hole = Float64Array.of(10, 10, 10, 20, 30, 20, 30, 10);
    expect(insetArea([rectangle(0, 0, 40, 30), hole], 1, 3.7)).toBeCloseTo(38 * 28 - 22 * 12, 9);
  });

  it("of what is thinner than twice the inset are nothing", () => {
    expect(insetArea([rectangle(0, 0, 2, 2)], 2, 0.05)).toBeCloseTo(0, 1);
    expect(insetArea([rectangle(0, 0, 40, 2)], 1.35, 0.05)).toBeCloseTo(0, 1);
  });

  it(`are those of the clipping library, on random outlines (seed ${seed})`, () => {
    fc.assert(
      fc.property(anyStar, fc.double({ min: 0.2, max: 3, noNaN: true }), (outline, by) => {
        const slow = regionArea(inset(regionOf([outline]), by));
        expect(Math.abs(insetArea([outline], by, 0.02) - slow)).toBeLessThan(0.05 + 0.002 * slow);
      }),
      { seed, numRuns: 200, endOnFailure: true },
    );
  });
});

describe("lines over loops", () => {
  it("measure area and outline of a disc", () => {
    const disc = star(Array.from({ length: 180 }, () => 10));
    let area = 0;
    let crossings = 0;
    scanLines(
      [disc].map((loop) => [loop]),
      0.1,
      (length, windings) => {
        if (windings[0] > 0) area += 0.1 * length;
        if (windings[0] > 0) crossings += 2;
      },
    );
    expect(area).toBeCloseTo(loopArea(disc), 0);
    // Crofton's formula: outline = π/2 × distance of the lines × crossings, for a figure that is the same all round.
    expect(((Math.PI / 2) * 0.1 * crossings) / loopLength(disc)).toBeCloseTo(1, 2);
  });

  it("refuse lines at no distance", () => {
    expect(() => scanLines([], 0, () => {})).toThrow(RangeError);
    expect(() => scanLines([], NaN, () => {})).toThrow(RangeError);
  });
});

describe("simpler loops", () => {
  it("keep the corners of a rectangle and drop what lies on its sides", () => {
    const outline = Float64Array.of(0, 0, 5, 0, 10, 0.001, 10, 4, 10, 10, 0, 10, 0, 5);
    expect(simplifiedLoop(outline, 0.02)?.length).toBe(8);
  });

  it("are none where the loop is as narrow as the tolerance", () => {
    expect(simplifiedLoop(rectangle(0, 0, 0.01, 0.01), 0.02)).toBeUndefined();
  });

  it(`lie within the tolerance of every point left out (seed ${seed})`, () => {
    fc.assert(
      fc.property(anyStar, fc.double({ min: 0.01, max: 0.5, noNaN: true }), (outline, tolerance) => {
        const dense = refined(outline, 6);
        const simple = simplifiedLoop(dense, tolerance);
        if (!simple) return;
        for (let i = 0; i < dense.length; i += 2) {
          expect(distanceTo(simple, dense[i], dense[i + 1])).toBeLessThan(tolerance * 1.0001 + 1e-9);
        }
      }),
      { seed, numRuns: 100, endOnFailure: true },
    );
  });
});

/** Each edge bent a little in between, with points in all. */
function refined(loop: Loop, pieces: number): Loop {
  const points: number[] = [];
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length;
    for (let k = 0; k < pieces; k++) {
      const share = k / pieces;
      const bulge = 1 + 0.03 * share * (1 - share);
      points.push(
        (loop[i] + share * (loop[j] - loop[i])) * bulge,
        (loop[i + 1] + share * (loop[j + 1] - loop[i + 1])) * bulge,
      );
    }
  }
  return Float64Array.from(points);
}

function distanceTo(loop: Loop, x: number, y: number): number {
  let least = Infinity;
  for (let i = 0; i < loop.length; i += 2) {
    const j = (i + 2) % loop.length;
    const [dx, dy] = [loop[j] - loop[i], loop[j + 1] - loop[i + 1]];
    const length = dx * dx + dy * dy;
    const share =
      length > 0 ? Math.min(1, Math.max(0, ((x - loop[i]) * dx + (y - loop[i + 1]) * dy) / length)) : 0;
    least = Math.min(least, Math.hypot(x - loop[i] - share * dx, y - loop[i + 1] - share * dy));
  }
  return least;
}
