import { describe, expect, it } from "vitest";
import { sweepHollow } from "../../src/geometry/hollow";
import { meshVolume } from "../../src/geometry/measure";
import type { TubeShape } from "../../src/geometry/tubeShape";
import { aroundHead, circlePoints, meshFault, tube } from "./tubes";

const hollow = (given: Partial<TubeShape>, wall = 2, drain = 0, drainAt = 0.5) =>
  sweepHollow(tube({ radius: { shares: [0], radii: [10] }, hollow: { wall, drain, drainAt }, ...given }));
const off = (value: number, wanted: number) => Math.abs(value / wanted - 1);

describe("sweepHollow", () => {
  it("leaves a wall all round and at flat ends", () => {
    const { outer, cores, drain } = hollow({});
    expect(drain).toBeUndefined();
    expect(off(meshVolume(outer), Math.PI * 100 * 120)).toBeLessThan(0.001);
    expect(cores.length).toBe(1);
    expect(off(meshVolume(cores[0]), Math.PI * 64 * 116)).toBeLessThan(0.001);
  });

  it("follows round ends with a round core about the same centre", () => {
    const { cores } = hollow({ startTip: { kind: "round" }, endTip: { kind: "round" } });
    expect(off(meshVolume(cores[0]), Math.PI * 64 * 120 + (4 / 3) * Math.PI * 512)).toBeLessThan(0.001);
  });

  it("ends the core where a tip grows too narrow, and has none in a thin tube", () => {
    const pointed = hollow({ endTip: { kind: "point", radius: 1, length: 60 } });
    expect(pointed.cores.length).toBe(1);
    expect(meshFault(pointed.cores[0])).toBeUndefined();
    const z = pointed.cores[0].positions.filter((_, i) => i % 3 === 2);
    expect(Math.max(...z)).toBeLessThan(120);
    expect(hollow({ radius: { shares: [0], radii: [2] } }).cores).toEqual([]);
  });

  it("has a core on both sides of a waist", () => {
    const { cores } = hollow({ radius: { shares: [0, 0.5, 1], radii: [10, 1.5, 10] } });
    expect(cores.length).toBe(2);
    for (const core of cores) expect(meshFault(core)).toBeUndefined();
  });

  it("runs round a closed tube", () => {
    const { cores } = hollow({ path: { kind: "through", points: circlePoints(48, 80), closed: true } });
    expect(off(meshVolume(cores[0]), Math.PI * 64 * 2 * Math.PI * 80)).toBeLessThan(0.001);
  });

  it("keeps the wall beside the nearest face of an outline", () => {
    const { cores } = hollow({
      section: {
        kind: "outline",
        points: [
          [1, 0.5],
          [-1, 0.5],
          [-1, -0.5],
          [1, -0.5],
        ],
      },
    });
    const y = cores[0].positions.filter((_, i) => i % 3 === 1);
    expect(Math.max(...y)).toBeCloseTo(3, 5);
  });

  it("drills the drain from the path out through the wall, and refuses one that misses the core", () => {
    const along = { path: { kind: "through" as const, points: aroundHead, closed: false } };
    const { drain } = hollow(along, 2, 4);
    expect(drain && meshFault(drain)).toBeUndefined();
    expect(off(meshVolume(drain!), Math.PI * 4 * 11)).toBeLessThan(0.03);
    expect(() => hollow(along, 2, 17)).toThrow(/17 mm/);
    expect(() => hollow(along, 2, 3, 0)).toThrow(/share 0/);
    expect(() => hollow(along, -1)).toThrow(/-1 mm/);
  });
});
