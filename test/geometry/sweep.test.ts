import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import { meshVolume, tubeVolumeAndLength } from "../../src/geometry/measure";
import { placeRings, prepareTube } from "../../src/geometry/rings";
import { defaultTolerance, sweepTube } from "../../src/geometry/sweep";
import { domeRings } from "../../src/geometry/tips";
import type { Tip, TubeShape } from "../../src/geometry/tubeShape";
import { distance, type Vec2, type Vec3 } from "../../src/geometry/vector";
import { aroundHead, circlePoints, meshFault, sampled, seed, trefoilAt, tube } from "./tubes";

const horn = tube({
  path: { kind: "through", points: aroundHead, closed: false },
  radius: { shares: [0, 0.5, 1], radii: [14, 9, 4] },
  endTip: { kind: "round" },
});
const bar: Vec2[] = [
  [1, 0.3],
  [-1, 0.3],
  [-1, -0.3],
  [1, -0.3],
];
const off = (value: number, wanted: number) => Math.abs(value / wanted - 1);

const coordinate = fc.integer({ min: -120, max: 120 });
const tip: fc.Arbitrary<Tip> = fc.oneof(
  fc.constant<Tip>({ kind: "flat" }),
  fc.constant<Tip>({ kind: "round" }),
  fc.record({
    kind: fc.constant("point" as const),
    radius: fc.constantFrom(0.05, 1, 30),
    length: fc.constantFrom(5, 400),
  }),
  fc.record({
    kind: fc.constant("flare" as const),
    radius: fc.constantFrom(2, 25),
    length: fc.constantFrom(5, 400),
  }),
  fc.record({ kind: fc.constant("bulb" as const), radius: fc.constantFrom(1, 9, 40) }),
);
const outline = fc.constantFrom<Vec2[]>(
  bar,
  [...bar].reverse(),
  [
    [1, -0.4],
    [1, 0.1],
    [-0.2, 0.1],
    [-0.2, 1],
    [-0.7, 1],
    [-0.7, -0.4],
  ],
  [
    [1, 1],
    [2, 1],
    [2, 2],
    [1.2, 2],
  ],
);
const anyTube: fc.Arbitrary<TubeShape> = fc.record({
  path: fc.record({
    kind: fc.constantFrom("through" as const, "pulled" as const),
    points: fc.uniqueArray(fc.tuple(coordinate, coordinate, coordinate), {
      minLength: 3,
      maxLength: 9,
      selector: (p) => p.join(),
    }),
    closed: fc.boolean(),
  }),
  radius: fc.record({
    shares: fc.constant([0, 0.4, 1]),
    radii: fc.tuple(
      fc.integer({ min: 0, max: 12 }),
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ min: 0, max: 12 }),
    ),
  }),
  section: fc.oneof(
    fc.constant({ kind: "circle" as const }),
    outline.map((points) => ({ kind: "outline" as const, points })),
  ),
  twist: fc.constantFrom(0, 360, -720),
  startTip: tip,
  endTip: tip,
});

describe("sweepTube", () => {
  it("gives closed, outward, finite meshes for every tube", () => {
    fc.assert(
      fc.property(anyTube, (shape) => {
        const mesh = sweepTube(shape);
        expect(meshFault(mesh)).toBeUndefined();
        expect(meshVolume(mesh)).toBeGreaterThan(0);
      }),
      { seed, numRuns: 200 },
    );
  });

  it("stays outward when the path or the outline is mirrored or runs backwards", () => {
    const twisted = { ...horn, section: { kind: "outline", points: bar } as const, twist: 200 };
    const mirrored: Vec3[] = aroundHead.map(([x, y, z]) => [-x, y, z]);
    const volume = meshVolume(sweepTube(twisted));
    for (const points of [mirrored, [...aroundHead].reverse()]) {
      for (const section of [bar, [...bar].reverse()]) {
        const shape = {
          ...twisted,
          path: { ...twisted.path, points },
          section: { kind: "outline" as const, points: section },
        };
        const mesh = sweepTube(shape);
        expect(meshFault(mesh)).toBeUndefined();
        expect(meshVolume(mesh)).toBeGreaterThan(0.5 * volume);
      }
    }
  });

  it("keeps the volume to 0.15 % with few rings and segments", () => {
    const mesh = sweepTube(horn);
    const { volume } = tubeVolumeAndLength(horn);
    expect(off(meshVolume(mesh), volume)).toBeLessThan(0.0015);
    expect(mesh.triangles.length / 3).toBeLessThan(2500);
    const rings = placeRings(prepareTube(horn, defaultTolerance), defaultTolerance);
    expect(rings.count).toBeGreaterThan(30);
    expect(rings.count).toBeLessThan(90);
  });

  it.each<[string, Partial<TubeShape>]>([
    [
      "a twisted bar",
      { section: { kind: "outline", points: bar }, twist: 720, radius: { shares: [0], radii: [10] } },
    ],
    [
      "a bulb and a point",
      { startTip: { kind: "bulb", radius: 12 }, endTip: { kind: "point", radius: 1, length: 60 } },
    ],
    ["a flare", { endTip: { kind: "flare", radius: 18, length: 50 } }],
    [
      "an outline beside its path",
      {
        section: {
          kind: "outline",
          points: [
            [1, 1],
            [2, 1],
            [2, 2],
            [1.2, 2],
          ],
        },
      },
    ],
  ])("keeps the volume of %s to 0.15 %%, by Pappus' theorem", (_, given) => {
    const shape = tube({ path: { kind: "through", points: aroundHead, closed: false }, ...given });
    expect(off(meshVolume(sweepTube(shape)), tubeVolumeAndLength(shape).volume)).toBeLessThan(0.0015);
  });

  it("stays within the tolerance of the true surface, at vertices and between", () => {
    const shapes = [
      { ...horn, endTip: { kind: "flat" } as const },
      tube({
        path: { kind: "through", points: circlePoints(24, 30), closed: true },
        radius: { shares: [0], radii: [12] },
      }),
      tube({ path: { kind: "through", points: sampled(48, trefoilAt(60, 25)), closed: true } }),
    ];
    for (const shape of shapes) {
      const { curve, profile } = prepareTube(shape, defaultTolerance);
      const { positions: p, triangles: t } = sweepTube(shape);
      let worst = 0;
      for (let i = 0; i < t.length; i += 3) {
        const corners = [0, 1, 2].map((k): Vec3 => {
          const a = t[i + k] * 3;
          return [p[a], p[a + 1], p[a + 2]];
        });
        for (const weights of [
          [1, 0, 0],
          [0.5, 0.5, 0],
          [0, 0.5, 0.5],
          [0.5, 0, 0.5],
          [1 / 3, 1 / 3, 1 / 3],
        ]) {
          const q = [0, 1, 2].map((axis) => corners.reduce((sum, c, k) => sum + weights[k] * c[axis], 0));
          const at: Vec3 = [q[0], q[1], q[2]];
          const share = curve.nearestShare(at);
          if (!curve.closed && (share < 1e-6 || share > 1 - 1e-6)) continue;
          const away = distance(curve.pointAt(share), at) - profile.radiusAt(share * curve.length);
          worst = Math.max(worst, Math.abs(away));
        }
      }
      // Errors around and along the tube add where both are greatest.
      expect(worst).toBeLessThan(2 * defaultTolerance);
    }
  });

  it("has no needles for triangles", () => {
    for (const shape of [horn, tube()]) {
      const { positions: p, triangles: t } = sweepTube(shape);
      let worst = 0;
      for (let i = 0; i < t.length; i += 3) {
        const [a, b, c] = [0, 1, 2].map(
          (k): Vec3 => [p[t[i + k] * 3], p[t[i + k] * 3 + 1], p[t[i + k] * 3 + 2]],
        );
        const sides = [distance(a, b), distance(b, c), distance(c, a)];
        worst = Math.max(worst, Math.max(...sides) / Math.min(...sides));
      }
      expect(worst).toBeLessThan(25);
    }
  });

  it("gives the same bytes for the same shape", () => {
    expect(sweepTube(structuredClone(horn))).toEqual(sweepTube(horn));
  });

  it("closes a twisted outline only where it meets itself", () => {
    const ring = { path: { kind: "through" as const, points: circlePoints(24, 40), closed: true } };
    const square: Vec2[] = [
      [1, 1],
      [-1, 1],
      [-1, -1],
      [1, -1],
    ];
    const quarter = tube({ ...ring, section: { kind: "outline", points: square }, twist: 90 });
    const mesh = sweepTube(quarter);
    expect(meshFault(mesh)).toBeUndefined();
    expect(off(meshVolume(mesh), tubeVolumeAndLength(quarter).volume)).toBeLessThan(0.005);
    expect(() => sweepTube({ ...quarter, twist: 45 })).toThrow(/turned by 45.0°/);
  });

  it("refuses what makes no tube", () => {
    expect(() => sweepTube(tube(), 0)).toThrow(/tolerance is 0/);
    expect(() => sweepTube(tube({ twist: Number.NaN, section: { kind: "outline", points: bar } }))).toThrow(
      /twist is NaN/,
    );
    expect(() => sweepTube(tube({ endTip: { kind: "bulb", radius: -3 } }))).toThrow(/-3 mm/);
  });
});

describe("tips", () => {
  const length = 120;
  const own = Math.PI * 25 * length;
  const ball = (r: number) => (4 / 3) * Math.PI * r ** 3;

  it("round: a half ball at each end", () => {
    const shape = tube({ startTip: { kind: "round" }, endTip: { kind: "round" } });
    const mesh = sweepTube(shape);
    expect(off(meshVolume(mesh), own + ball(5))).toBeLessThan(0.0005);
    const z = mesh.positions.filter((_, i) => i % 3 === 2);
    expect(Math.max(...z)).toBeCloseTo(125, 0);
    expect(Math.min(...z)).toBeCloseTo(-5, 0);
  });

  it("domes hold the volume of their half ball at every tolerance, and reach little beyond it", () => {
    for (const tolerance of [0.5, 0.12, 0.01]) {
      const { offsets, radii, pole } = domeRings(6, 6, tolerance);
      const heights = [0, ...offsets, pole];
      const widths = [6, ...radii, 0];
      let sum = 0;
      for (let i = 0; i + 1 < heights.length; i++) {
        const [a, b] = [widths[i], widths[i + 1]];
        sum += (Math.PI * (heights[i + 1] - heights[i]) * (a * a + a * b + b * b)) / 3;
      }
      expect(off(sum, ball(6) / 2)).toBeLessThan(1e-6);
      expect(pole - 6).toBeLessThan(tolerance);
    }
  });

  it("bulb: a ball about the end of the path", () => {
    const r = 11;
    const neck = Math.sqrt(r * r - 25);
    // The ball less the cap that the tube pierces, and the tube up to where it meets the ball.
    const cap = (Math.PI * (r - neck) ** 2 * (2 * r + neck)) / 3;
    const wanted = Math.PI * 25 * (length - neck) + ball(r) - cap;
    expect(off(meshVolume(sweepTube(tube({ endTip: { kind: "bulb", radius: r } }))), wanted)).toBeLessThan(
      0.002,
    );
  });

  it("point: ends in a ball of the given radius; flare: ends flat in it", () => {
    const point = sweepTube(tube({ endTip: { kind: "point", radius: 1, length: 40 } }));
    const z = point.positions.filter((_, i) => i % 3 === 2);
    expect(Math.abs(Math.max(...z) - 121)).toBeLessThan(defaultTolerance);
    const flare = sweepTube(tube({ endTip: { kind: "flare", radius: 12, length: 40 } }));
    let widest = 0;
    for (let i = 0; i < flare.positions.length; i += 3) {
      widest = Math.max(widest, Math.hypot(flare.positions[i], flare.positions[i + 1]));
      expect(flare.positions[i + 2]).toBeLessThanOrEqual(120.001);
    }
    expect(widest).toBeCloseTo(12, 0);
  });

  it("a radius that runs out ends in a point", () => {
    const shape = tube({ radius: { shares: [0, 1], radii: [6, 0] } });
    const mesh = sweepTube(shape);
    expect(meshFault(mesh)).toBeUndefined();
    expect(off(meshVolume(mesh), (Math.PI * 36 * length) / 3)).toBeLessThan(0.001);
  });
});

describe("tubeVolumeAndLength", () => {
  it("knows the length of the path and the greatest radius", () => {
    const measures = tubeVolumeAndLength(horn);
    expect(measures.length).toBeCloseTo(new Curve(horn.path).length, 9);
    expect(measures.greatestRadius).toBe(14);
    expect(measures.leastRadius).toBeCloseTo(4, 9);
  });
});
