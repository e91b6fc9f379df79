import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import { drape, smoothAbove } from "../../src/geometry/drape";
import { type RestingTube, settle } from "../../src/geometry/resting";
import type { Vec3 } from "../../src/geometry/vector";
import { distance } from "../../src/geometry/vector";
import { seed } from "./tubes";

const plane = (p: Vec3) => ({ distance: p[2], normal: [0, 0, 1] as const });
const ball = (p: Vec3) => {
  const size = Math.hypot(...p);
  return { distance: size - 90, normal: [p[0] / size, p[1] / size, p[2] / size] as const };
};
const rope = (points: Vec3[], radius: number, given: Partial<RestingTube> = {}): RestingTube => ({
  path: { kind: "through", points, closed: false },
  radius: { shares: [0], radii: [radius] },
  sink: 0.1,
  pinned: "none",
  ...given,
});
/** Points at given z. */
const lineX = (z: number, y = 0): Vec3[] => [
  [-100, y, z],
  [0, y, z],
  [100, y, z],
];
const lineY = (z: number, x = 0): Vec3[] => [
  [x, -100, z],
  [x, 0, z],
  [x, 100, z],
];

/** Ropes across the upper half of a ball, from a small generator of pseudo-random numbers. */
function heap(count: number): RestingTube[] {
  let state = seed;
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  return Array.from({ length: count }, () => {
    const [azimuth, elevation, heading] = [random() * 6.28, 0.2 + random(), random() * 6.28];
    const radius = 3 + random() * 4;
    const o = [
      Math.cos(azimuth) * Math.cos(elevation),
      Math.sin(azimuth) * Math.cos(elevation),
      Math.sin(elevation),
    ];
    const u = [-Math.sin(azimuth), Math.cos(azimuth), 0];
    const w = [o[1] * u[2] - o[2] * u[1], o[2] * u[0] - o[0] * u[2], o[0] * u[1] - o[1] * u[0]];
    const points = Array.from({ length: 7 }, (_, i): Vec3 => {
      const along = (i - 3) * 0.22;
      const p = o.map((c, k) => {
        const ahead = u[k] * Math.cos(heading) + w[k] * Math.sin(heading);
        return (90 + radius) * (c * Math.cos(along) + ahead * Math.sin(along));
      });
      return [p[0], p[1], p[2]];
    });
    return rope(points, radius);
  });
}

/** Deepest overlap of the laid tubes beyond their sink, every point of every tube against every other: the slow way. */
function deepestOverlap(
  tubes: readonly RestingTube[],
  paths: readonly { points: readonly Vec3[] }[],
): number {
  const lines = tubes.map((tube, i) => {
    const curve = new Curve({ ...tube.path, points: paths[i].points });
    const steps = Math.ceil(curve.length / 0.8);
    return Array.from({ length: steps + 1 }, (_, k) => curve.pointAt(k / steps));
  });
  let deepest = 0;
  for (let i = 0; i < tubes.length; i++) {
    for (let j = 0; j < i; j++) {
      const apart = (tubes[i].radius.radii[0] + tubes[j].radius.radii[0]) * (1 - tubes[i].sink);
      for (const p of lines[i]) for (const q of lines[j]) deepest = Math.max(deepest, apart - distance(p, q));
    }
  }
  return deepest;
}

describe("settle", () => {
  it("lays a rope over the one that it crosses: its centre line rises to the lower diameter plus its own radius", () => {
    const { paths, overlap } = settle(
      [rope(lineX(5), 5, { sink: 0 }), rope(lineY(5), 4, { sink: 0 })],
      plane,
    );
    const [lower, upper] = paths.map((path) => new Curve(path));
    expect(upper.pointAt(0.5)[2]).toBeCloseTo(5 + 5 + 4, 2);
    for (let i = 0; i <= 20; i++) expect(lower.pointAt(i / 20)[2]).toBeCloseTo(5, 2);
    expect(upper.pointAt(0)[2]).toBeCloseTo(4, 2);
    expect(overlap).toBeLessThan(0.05);
    // It bends no tighter than it is thick.
    for (let i = 0; i <= 200; i++) expect(upper.curvatureAt(i / 200) * 4).toBeLessThan(0.9);
  });

  it("lets them grow together by the sink", () => {
    const { paths } = settle([rope(lineX(5), 5), rope(lineY(5), 5)], plane);
    expect(new Curve(paths[0]).pointAt(0.5)[2]).toBeCloseTo(4.5, 2);
    expect(new Curve(paths[1]).pointAt(0.5)[2]).toBeCloseTo(13.5, 1);
  });

  it("goes over in the order of the list, wherever the design put them", () => {
    const { paths } = settle([rope(lineX(30), 5, { sink: 0 }), rope(lineY(-8), 5, { sink: 0 })], plane);
    expect(new Curve(paths[0]).pointAt(0.5)[2]).toBeCloseTo(5, 1);
    expect(new Curve(paths[1]).pointAt(0.5)[2]).toBeCloseTo(15, 1);
  });

  it("moves a rope aside that runs along another, and leaves apart what lies apart", () => {
    const { paths } = settle(
      [rope(lineX(5), 5, { sink: 0 }), rope(lineX(5, 7), 5, { sink: 0 }), rope(lineX(5, 40), 5, { sink: 0 })],
      plane,
    );
    const middles = paths.map((path) => new Curve(path).pointAt(0.5));
    expect(middles[1][1]).toBeGreaterThan(9.5);
    expect(middles[1][2]).toBeCloseTo(5, 0);
    expect(distance(middles[2], [0, 40, 5])).toBeLessThan(0.01);
  });

  it("keeps what is symmetric symmetric", () => {
    const { paths } = settle([rope(lineX(5), 5), rope(lineY(5), 5)], plane);
    const upper = new Curve(paths[1]);
    for (const share of [0.1, 0.3, 0.42, 0.48]) {
      const [x, y, z] = upper.pointAt(share);
      const [u, v, w] = upper.pointAt(1 - share);
      expect(x).toBeCloseTo(u, 3);
      expect(y).toBeCloseTo(-v, 3);
      expect(z).toBeCloseTo(w, 3);
    }
  });

  it("goes over a fixed tube, and leaves it and pinned ends where they are", () => {
    const fixed = rope(lineX(9), 6, { fixed: true });
    const pinned = rope(
      [
        [0, -100, 40],
        [0, -50, 20],
        [0, 100, 5],
      ],
      4,
      { pinned: "start", sink: 0 },
    );
    const { paths, overlap } = settle([pinned, fixed], plane);
    expect(paths[1]).toEqual(fixed.path);
    expect(distance(paths[0].points[0], [0, -100, 40])).toBeLessThan(1e-6);
    const laid = new Curve(paths[0]);
    const over = laid.pointAt(laid.nearestShare([0, 0, 20]));
    expect(over[2]).toBeGreaterThan(9 + 6 + 4 - 0.2);
    expect(laid.pointAt(1)[2]).toBeCloseTo(4, 1);
    expect(overlap).toBeLessThan(0.1);
  });

  it("heaps ropes on a ball with nothing through anything, on the ball and not over it", () => {
    const tubes = heap(24);
    const { paths, overlap } = settle(tubes, ball);
    expect(overlap).toBeLessThan(0.1);
    expect(deepestOverlap(tubes, paths)).toBeLessThan(0.1);
    const heights = paths.map((path) => path.points.map((p) => ball(p).distance));
    heights.forEach((list, i) => {
      expect(Math.min(...list)).toBeGreaterThan(tubes[i].radius.radii[0] * 0.9 - 0.1);
    });
    // The first lies on the ball all along; few of the others nowhere touch it or what lies below.
    expect(Math.max(...heights[0])).toBeCloseTo(tubes[0].radius.radii[0] * 0.9, 1);
  });

  it("gives the same bytes each time", () => {
    expect(settle(heap(10), ball)).toEqual(settle(heap(10), ball));
  });

  it("lays a closed ring, and one that crosses itself over itself", () => {
    const ring = rope(
      Array.from({ length: 12 }, (_, i): Vec3 => [60 * Math.cos(i / 1.91), 60 * Math.sin(i / 1.91), 9]),
      5,
    );
    const closed = { ...ring, path: { ...ring.path, closed: true } };
    const laid = settle([closed, rope(lineX(5), 5)], plane);
    expect(laid.paths[0].closed).toBe(true);
    expect(laid.overlap).toBeLessThan(0.1);
    const loop = rope(
      [
        [-60, 0, 4],
        [0, 0, 4],
        [50, 30, 4],
        [30, 60, 4],
        [10, 30, 4],
        [20, -60, 4],
      ],
      4,
      { sink: 0 },
    );
    const [path] = settle([loop], plane).paths;
    expect(Math.max(...path.points.map((p) => p[2]))).toBeGreaterThan(11);
  });

  it("refuses a sink that would swallow the tube", () => {
    expect(() => settle([rope(lineX(5), 5, { sink: 1 })], plane)).toThrow(/sink of a resting tube is 1/);
  });
});

describe("drape", () => {
  it("never lies below, bends up no tighter than told, and follows what is gentle", () => {
    const heights = Float64Array.from({ length: 80 }, (_, i) => (i > 30 && i < 40 ? 12 : 0));
    const line = drape(heights, 2, 20, false);
    for (let i = 0; i < 80; i++) expect(line[i]).toBeGreaterThanOrEqual(heights[i]);
    for (let i = 1; i < 79; i++) {
      const bend = (line[i - 1] - 2 * line[i] + line[i + 1]) / 4;
      expect(bend).toBeLessThanOrEqual(1 / 20 + 1e-9);
    }
    expect(line[35]).toBe(12);
    expect([line[0], line[79]]).toEqual([0, 0]);
    const gentle = heights.map((_, i) => 3 * (1 - Math.cos((2 * Math.PI * i) / 79)));
    drape(gentle, 2, 20, false).forEach((h, i) => {
      // To what the samples resolve.
      expect(Math.abs(h - gentle[i])).toBeLessThan(0.005);
    });
  });

  it("is smoothed without falling below or losing its summit", () => {
    const heights = Float64Array.from([0, 0, 0, 0, 5, 0, 0, 0, 0]);
    const smooth = smoothAbove(heights, 1, false);
    expect([...smooth]).toEqual([0, 0, 5 / 3, 10 / 3, 5, 10 / 3, 5 / 3, 0, 0]);
  });
});
