import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import type { PathData } from "../../src/geometry/tubeShape";
import { distance, dot, normalize, subtract, type Vec3 } from "../../src/geometry/vector";
import { MessageError } from "../../src/message";
import { aroundHead, circlePoints, seed } from "./tubes";

const through = (points: Vec3[], closed = false): PathData => ({ kind: "through", points, closed });
const pulled = (points: Vec3[], closed = false): PathData => ({ kind: "pulled", points, closed });

const coordinate = fc.integer({ min: -150, max: 150 });
const point = fc.tuple(coordinate, coordinate, coordinate);
const path = fc.record({
  kind: fc.constantFrom("through" as const, "pulled" as const),
  points: fc.uniqueArray(point, { minLength: 4, maxLength: 9, selector: (p) => p.join() }),
  closed: fc.boolean(),
});

describe("Curve", () => {
  it("runs straight between two points", () => {
    const curve = new Curve(
      through([
        [0, 0, 0],
        [30, 40, 0],
      ]),
    );
    expect(curve.length).toBeCloseTo(50, 10);
    expect(curve.pointAt(0.25)).toEqual([7.5, 10, 0]);
    expect(curve.curvatureAt(0.5)).toBeCloseTo(0, 12);
  });

  it("passes its points at the shares that it names", () => {
    for (const closed of [false, true]) {
      const curve = new Curve(through(aroundHead, closed));
      aroundHead.forEach((p, i) => {
        expect(distance(curve.pointAt(curve.shareAtPoint(i)), p)).toBeLessThan(1e-6);
      });
    }
  });

  it("follows a circle: length, curvature and direction", () => {
    const curve = new Curve(through(circlePoints(48, 80), true));
    expect(curve.length).toBeCloseTo(2 * Math.PI * 80, 2);
    for (const share of [0, 0.123, 0.5, 0.87]) {
      const p = curve.pointAt(share);
      expect(Math.hypot(...p)).toBeCloseTo(80, 3);
      expect(dot(curve.tangentAt(share), normalize(p))).toBeCloseTo(0, 3);
      expect(curve.curvatureAt(share)).toBeCloseTo(1 / 80, 3);
    }
  });

  it("starts and ends an open pulled path at its end points, within the hull of the rest", () => {
    const points: Vec3[] = [
      [0, 0, 0],
      [10, 30, 0],
      [40, 30, 5],
      [50, 0, 0],
      [80, 10, 0],
    ];
    const curve = new Curve(pulled(points));
    expect(curve.pointAt(0)).toEqual([0, 0, 0]);
    expect(distance(curve.pointAt(1), points[4])).toBeLessThan(1e-9);
    expect(dot(curve.tangentAt(0), normalize([10, 30, 0]))).toBeCloseTo(1, 9);
    for (let i = 0; i <= 50; i++) expect(curve.pointAt(i / 50)[1]).toBeLessThanOrEqual(30);
  });

  it("is the uniform B-spline (de Boor 1978) where closed: (P₀ + 4P₁ + P₂)/6 at the knots", () => {
    const square: Vec3[] = [
      [1, 1, 0],
      [-1, 1, 0],
      [-1, -1, 0],
      [1, -1, 0],
    ];
    const curve = new Curve(pulled(square, true));
    const knot = curve.pointAt(curve.shareAtPoint(1));
    expect(knot[0]).toBeCloseTo((1 + 4 * -1 - 1) / 6, 9);
    expect(knot[1]).toBeCloseTo((1 + 4 - 1) / 6, 9);
  });

  it("is a quadratic through the clamped ends for three pulled points", () => {
    const curve = new Curve(
      pulled([
        [0, 0, 0],
        [10, 20, 0],
        [20, 0, 0],
      ]),
    );
    expect(distance(curve.pointAt(0.5), [10, 10, 0])).toBeLessThan(1e-9);
  });

  it("measures by arc length, as a fine polyline does", () => {
    fc.assert(
      fc.property(path, fc.integer({ min: 1, max: 19 }), (data, twentieth) => {
        const curve = new Curve(data);
        const share = twentieth / 20;
        const steps = 4000;
        let sum = 0;
        let upTo = 0;
        let before = curve.pointAt(0);
        for (let i = 1; i <= steps; i++) {
          const p = curve.pointAt(i / steps);
          sum += distance(p, before);
          if (i / steps <= share) upTo = sum;
          before = p;
        }
        expect(sum / curve.length).toBeCloseTo(1, 3);
        expect(upTo / curve.length).toBeCloseTo(share, 3);
      }),
      { seed, numRuns: 40 },
    );
  });

  it("moves along its tangent and stays finite at cusps", () => {
    fc.assert(
      fc.property(path, fc.double({ min: 0.01, max: 0.98, noNaN: true }), (data, share) => {
        const curve = new Curve(data);
        const tangent = curve.tangentAt(share);
        expect(Math.hypot(...tangent)).toBeCloseTo(1, 9);
        expect(Number.isFinite(curve.curvatureAt(share))).toBe(true);
        const step = 1e-5;
        const ahead = subtract(curve.pointAt(share + step), curve.pointAt(share - step));
        const sharp = curve.curvatureAt(share) * curve.length * step > 0.05;
        if (!sharp) expect(dot(normalize(ahead), tangent)).toBeGreaterThan(0.98);
      }),
      { seed, numRuns: 200 },
    );
  });

  it("finds the nearest point as a search over all of it does", () => {
    fc.assert(
      fc.property(path, point, (data, from) => {
        const curve = new Curve(data);
        let least = Number.POSITIVE_INFINITY;
        for (let i = 0; i <= 3000; i++) least = Math.min(least, distance(curve.pointAt(i / 3000), from));
        const found = distance(curve.pointAt(curve.nearestShare(from)), from);
        expect(found).toBeLessThanOrEqual(least + 1e-6);
      }),
      { seed, numRuns: 60 },
    );
  });

  it("takes doubled points for one and refuses paths without length", () => {
    const doubled = new Curve(
      through([
        [0, 0, 0],
        [0, 0, 0],
        [10, 0, 0],
        [10, 0, 0],
      ]),
    );
    expect(doubled.length).toBeCloseTo(10, 9);
    expect(doubled.shareAtPoint(1)).toBe(0);
    expect(doubled.shareAtPoint(3)).toBe(1);
    expect(
      () =>
        new Curve(
          through([
            [1, 2, 3],
            [1, 2, 3],
          ]),
        ),
    ).toThrow(/1 distinct point/);
    expect(
      () =>
        new Curve(
          through(
            [
              [0, 0, 0],
              [1, 0, 0],
            ],
            true,
          ),
        ),
    ).toThrow(/closed path has 2 distinct points/);
    expect(
      () =>
        new Curve(
          through([
            [0, 0, 0],
            [Number.NaN, 0, 0],
          ]),
        ),
    ).toThrow(MessageError);
  });

  it("has a direction where a pulled path stands still on tripled points", () => {
    const curve = new Curve(
      pulled([
        [0, 0, 0],
        [10, 0, 0],
        [10, 0, 0],
        [10, 0, 0],
        [10, 20, 0],
      ]),
    );
    for (let i = 0; i <= 40; i++) {
      expect(Math.hypot(...curve.tangentAt(i / 40))).toBeCloseTo(1, 9);
    }
  });
});
