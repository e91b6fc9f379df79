import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convexParts, crossingEdges, isConvex, signedArea, triangulate } from "../../src/geometry/polygon";
import { circleDeviation, circleSegments, sectionPolygon } from "../../src/geometry/section";
import type { Vec2 } from "../../src/geometry/vector";
import { seed } from "./tubes";

const notched: Vec2[] = [
  [1, -0.4],
  [1, 0.1],
  [-0.2, 0.1],
  [-0.2, 1],
  [-0.7, 1],
  [-0.7, -0.4],
];
/** A star-shaped outline about the origin: simple by its making. */
const star = fc
  .array(fc.double({ min: 0.3, max: 1.5, noNaN: true }), { minLength: 3, maxLength: 24 })
  .map((radii) =>
    radii.map((r, i): Vec2 => {
      const angle = (2 * Math.PI * i) / radii.length;
      return [r * Math.cos(angle), r * Math.sin(angle)];
    }),
  );

describe("circle sections", () => {
  it("have the circle's area, and stay within the tolerance on both sides with as few segments as that takes", () => {
    for (const radius of [0.5, 4, 10, 14, 60]) {
      const n = circleSegments(radius, 0.12);
      expect(radius * circleDeviation(n)).toBeLessThanOrEqual(0.12);
      if (n > 8) expect(radius * circleDeviation(n - 2)).toBeGreaterThan(0.12);
      const { points } = sectionPolygon({ kind: "circle" }, radius, 0.12);
      expect(signedArea(points)).toBeCloseTo(Math.PI, 12);
      expect(points.length).toBe(n);
    }
  });
});

describe("outlines", () => {
  it("come out counter-clockwise, doubled points gone", () => {
    const clockwise = [...notched].reverse();
    const section = sectionPolygon({ kind: "outline", points: [...clockwise, clockwise[0]] }, 5, 0.1);
    expect(section.points.length).toBe(6);
    expect(signedArea(section.points)).toBeCloseTo(section.area, 12);
    expect(section.area).toBeGreaterThan(0);
  });

  it.each<[Vec2[], RegExp]>([
    [
      [
        [0, 0],
        [1, 1],
        [1, 0],
        [0, 1],
      ],
      /crosses or touches itself/,
    ],
    [
      [
        [0, 0],
        [1, 1],
      ],
      /2 distinct points/,
    ],
    [
      [
        [0, 0],
        [1, 1],
        [2, 2],
      ],
      /crosses or touches itself|area/,
    ],
    [
      [
        [0, 0],
        [1, Number.NaN],
        [2, 2],
      ],
      /NaN/,
    ],
    // A corner on another edge.
    [
      [
        [0, 0],
        [2, 0],
        [2, 2],
        [1, 0],
        [0, 2],
      ],
      /crosses or touches itself/,
    ],
  ])("%j is refused", (points, message) => {
    expect(() => sectionPolygon({ kind: "outline", points }, 5, 0.1)).toThrow(message);
  });

  it("are cut into triangles and into convex parts of the same area", () => {
    fc.assert(
      fc.property(star, (points) => {
        fc.pre(crossingEdges(points) === undefined);
        const flat = triangulate(points);
        expect(flat.length).toBe(3 * (points.length - 2));
        let sum = 0;
        for (let i = 0; i < flat.length; i += 3) {
          const area = signedArea([points[flat[i]], points[flat[i + 1]], points[flat[i + 2]]]);
          expect(area).toBeGreaterThan(-1e-12);
          sum += area;
        }
        expect(sum).toBeCloseTo(signedArea(points), 9);
        const parts = convexParts(points).map((part) => part.map((i) => points[i]));
        expect(parts.every(isConvex)).toBe(true);
        expect(parts.reduce((total, part) => total + signedArea(part), 0)).toBeCloseTo(sum, 9);
      }),
      { seed, numRuns: 200 },
    );
    expect(convexParts(notched).length).toBe(2);
  });
});
