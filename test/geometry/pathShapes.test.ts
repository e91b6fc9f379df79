import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import {
  evenShares,
  frameSpiral,
  helixPath,
  joinedPaths,
  mirroredPath,
  partOfPath,
  raisedPath,
  resampled,
  reversedPath,
} from "../../src/geometry/pathShapes";
import type { PathData } from "../../src/geometry/tubeShape";
import { distance, type Vec3 } from "../../src/geometry/vector";
import { aroundHead, circlePoints } from "./tubes";

const core: PathData = { kind: "through", points: aroundHead, closed: false };
const ring: PathData = { kind: "through", points: circlePoints(24, 80), closed: true };

describe("path shapes", () => {
  it("helix: its length is turns·√((2πr)² + rise²)", () => {
    const helix = helixPath({
      from: [5, 6, 7],
      axis: [0, 0, 2],
      startRadius: 30,
      endRadius: 30,
      rise: 12,
      turns: 4,
      phase: 0,
    });
    const curve = new Curve(helix);
    expect(Math.abs(curve.length / (4 * Math.hypot(2 * Math.PI * 30, 12)) - 1)).toBeLessThan(1e-4);
    // Starts forward of an upright axis and turns right-handed about it: to -X.
    expect(distance(curve.pointAt(0), [5, 36, 7])).toBeLessThan(1e-9);
    expect(curve.tangentAt(0)[0]).toBeLessThan(-0.9);
    expect(distance(curve.pointAt(1), [5, 36, 55])).toBeLessThan(1e-9);
    for (const p of helix.points) expect(Math.hypot(p[0] - 5, p[1] - 6)).toBeCloseTo(30, 9);
  });

  it("spiral: keeps its distance from the core and winds about it as often as told", () => {
    const spiral = new Curve(frameSpiral(core, { away: (share) => 6 + 4 * share, turns: 7, phase: 20 }));
    const along = new Curve(core);
    for (let i = 1; i < 20; i++) {
      const p = spiral.pointAt(i / 20);
      const near = along.nearestShare(p);
      expect(distance(p, along.pointAt(near))).toBeCloseTo(6 + 4 * near, 0);
    }
    expect(spiral.length).toBeGreaterThan(along.length);
    expect(frameSpiral(ring, { away: () => 8, turns: 5, phase: 0 }).closed).toBe(true);
    expect(frameSpiral(ring, { away: () => 8, turns: 5.5, phase: 0 }).closed).toBe(false);
  });

  it("spiral: follows a distance that comes and goes, however few points its core has", () => {
    const straight: PathData = {
      kind: "through",
      points: [
        [0, 0, 0],
        [0, 200, 0],
      ],
      closed: false,
    };
    const away = (share: number) => 8 + 3 * Math.cos(2 * Math.PI * 7 * share);
    const curve = new Curve(frameSpiral(straight, { away, turns: 0.5, phase: 0 }));
    for (let i = 0; i <= 300; i++) {
      const [x, y, z] = curve.pointAt(i / 300);
      expect(Math.abs(Math.hypot(x, z) - away(y / 200))).toBeLessThan(0.1);
    }
  });

  it("shares are spread evenly, from end to end or around", () => {
    expect(evenShares(3, false)).toEqual([0, 0.5, 1]);
    expect(evenShares(4, true)).toEqual([0, 0.25, 0.5, 0.75]);
    expect(() => evenShares(0, false)).toThrow(/count is 0/);
  });

  it("parts have their share of the length, backwards and over the start too", () => {
    const whole = new Curve(core).length;
    expect(new Curve(partOfPath(core, 0.2, 0.7)).length / whole).toBeCloseTo(0.5, 3);
    const back = new Curve(partOfPath(core, 0.7, 0.2));
    expect(distance(back.pointAt(0), new Curve(core).pointAt(0.7))).toBeLessThan(1e-6);
    expect(new Curve(partOfPath(ring, 0.9, 0.1)).length / new Curve(ring).length).toBeCloseTo(0.2, 3);
  });

  it("reversed, mirrored, resampled and joined paths are the same line", () => {
    const curve = new Curve(core);
    expect(distance(new Curve(reversedPath(core)).pointAt(0.3), curve.pointAt(0.7))).toBeLessThan(1e-6);
    const [x, y, z] = curve.pointAt(0.4);
    expect(distance(new Curve(mirroredPath(core)).pointAt(0.4), [-x, y, z])).toBeLessThan(1e-6);
    expect(distance(new Curve(resampled(core, 80)).pointAt(0.4), [x, y, z])).toBeLessThan(0.05);
    const joined = new Curve(joinedPaths([partOfPath(core, 0, 0.4), partOfPath(core, 0.4, 1)]));
    expect(joined.length / curve.length).toBeCloseTo(1, 3);
    expect(() => joinedPaths([ring])).toThrow(/closed path/);
  });

  it("raised paths lie off the first by what is told", () => {
    const raised = new Curve(raisedPath(ring, (p): Vec3 => [p[0] / 8, p[1] / 8, 0]));
    expect(raised.closed).toBe(true);
    expect(Math.hypot(...raised.pointAt(0.37))).toBeCloseTo(90, 2);
  });
});
