import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import { sectionAxes, sectionTurn } from "../../src/geometry/frames";
import { SectionFrames } from "../../src/geometry/sectionFrames";
import { cross, dot, normalize, type Vec3 } from "../../src/geometry/vector";
import { aroundHead, circlePoints, sampled, trefoilAt } from "./tubes";

const at3 = (a: Float64Array, i: number): Vec3 => [a[i * 3], a[i * 3 + 1], a[i * 3 + 2]];
const even = (count: number) => Array.from({ length: count + 1 }, (_, i) => i / count);

function axesOf(points: Vec3[], closed: boolean, twist: number, ups?: Vec3[]) {
  const curve = new Curve({ kind: "through", points, closed });
  const shares = even(400);
  const samples = curve.sample(shares);
  const turn = sectionTurn(curve, twist, ups, points.length);
  return { curve, samples, turn, shares, axes: sectionAxes(samples, shares, turn) };
}

describe("section frames", () => {
  it("are right-handed: x × y runs along the path", () => {
    const { axes, samples } = axesOf(aroundHead, false, 90);
    for (let i = 0; i <= 400; i += 20) {
      const z = cross(at3(axes.x, i), at3(axes.y, i));
      expect(dot(z, at3(samples.tangents, i))).toBeCloseTo(1, 9);
    }
  });

  it("meet themselves around a closed path, whatever its closure angle", () => {
    const { axes } = axesOf(sampled(96, trefoilAt(80, 30)), true, 0);
    expect(dot(at3(axes.y, 0), at3(axes.y, 400))).toBeCloseTo(1, 6);
  });

  it("add the twist", () => {
    const { axes } = axesOf(
      [
        [0, 0, 0],
        [0, 100, 0],
      ],
      false,
      90,
    );
    expect(at3(axes.y, 0)[2]).toBeCloseTo(1, 9);
    // A quarter turn about +Y, right-handed, takes +Z to +X.
    expect(at3(axes.y, 400)[0]).toBeCloseTo(1, 9);
    expect(at3(axes.y, 200)[0]).toBeCloseTo(Math.SQRT1_2, 9);
  });

  it("keep +Y at the given directions, open and closed", () => {
    const points = circlePoints(12, 80);
    const ups = points.map((p, i): Vec3 => (i % 2 === 0 ? normalize(p) : normalize([p[0], p[1], 60])));
    for (const closed of [false, true]) {
      const { axes, curve, samples, turn } = axesOf(points, closed, 0, ups);
      const frames = new SectionFrames(curve, turn);
      points.forEach((_, i) => {
        const frame = frames.at(curve.shareAtPoint(i));
        expect(dot(frame.y, ups[i])).toBeGreaterThan(0.999);
      });
      if (closed) expect(dot(at3(axes.y, 0), at3(axes.y, 400))).toBeCloseTo(1, 6);
      // Single frames are those of the sweep.
      const frame = frames.at(0.3);
      expect(dot(frame.y, at3(axes.y, 120))).toBeCloseTo(1, 6);
      expect(dot(frame.tangent, at3(samples.tangents, 120))).toBeCloseTo(1, 9);
    }
  });

  it("refuse directions that do not match the points", () => {
    expect(() => axesOf(aroundHead, false, 0, [[0, 0, 1]])).toThrow(
      /1 directions are given for the 8 points/,
    );
  });
});
