import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import { prepareTube } from "../../src/geometry/rings";
import { findSelfOverlap, nearPairs } from "../../src/geometry/selfOverlap";
import type { Vec3 } from "../../src/geometry/vector";
import { aroundHead, circlePoints, hairpin, sampled, seed, trefoilAt, tube } from "./tubes";

const along = (points: Vec3[], radius: number, closed = false) =>
  tube({ path: { kind: "through", points, closed }, radius: { shares: [0], radii: [radius] } });

describe("findSelfOverlap", () => {
  it.each<[string, ReturnType<typeof tube>]>([
    [
      "a straight tube, thick and short",
      along(
        [
          [0, 0, 0],
          [0, 0, 20],
        ],
        40,
      ),
    ],
    ["a gentle arc", along(aroundHead, 14)],
    ["a torus that just keeps its hole", along(circlePoints(48, 30), 28, true)],
    [
      "a half circle just wider than the tube",
      along(
        sampled(13, (t): Vec3 => [13 * Math.cos(Math.PI * t), 13 * Math.sin(Math.PI * t), 0], true),
        11.5,
      ),
    ],
    ["a trefoil that keeps clear of itself", along(sampled(96, trefoilAt(80, 30)), 15, true)],
  ])("leaves %s alone", (_, shape) => {
    expect(findSelfOverlap(shape)).toEqual([]);
  });

  it("flags a bend tighter than the tube is thick, and legs that lie within each other, where they are", () => {
    const found = findSelfOverlap(along(hairpin(4, 60), 8));
    const bend = found.find((overlap) => overlap.reason === "bend");
    expect(bend?.fromShare).toBeGreaterThan(0.4);
    expect(bend?.toShare).toBeLessThan(0.6);
    expect(found.some((overlap) => overlap.reason === "near" && overlap.fromShare === 0)).toBe(true);
  });

  it.each<[string, ReturnType<typeof tube>, "bend" | "near"]>([
    ["a spindle torus", along(circlePoints(24, 6), 8, true), "bend"],
    ["a trefoil through itself", along(sampled(96, trefoilAt(80, 30)), 32, true), "near"],
    [
      "a spiral that touches its next turn",
      along(
        sampled(73, (t): Vec3 => [40 * Math.cos(18 * t), 40 * Math.sin(18 * t), 42 * t], true),
        8,
      ),
      "near",
    ],
    [
      "a bulb that swallows the path",
      tube({
        path: { kind: "through", points: hairpin(12, 30), closed: false },
        endTip: { kind: "bulb", radius: 22 },
      }),
      "near",
    ],
  ])("flags %s", (_, shape, reason) => {
    expect(findSelfOverlap(shape).some((overlap) => overlap.reason === reason)).toBe(true);
  });

  it("jumps over no pair that a comparison of all with all finds", () => {
    const coordinate = fc.integer({ min: -60, max: 60 });
    fc.assert(
      fc.property(
        fc.uniqueArray(fc.tuple(coordinate, coordinate, coordinate), {
          minLength: 4,
          maxLength: 9,
          selector: (p) => p.join(),
        }),
        fc.boolean(),
        (points, closed) => {
          const shape = tube({
            path: { kind: "through", points, closed },
            radius: { shares: [0, 1], radii: [9, 4] },
          });
          const prepared = prepareTube(shape, 0.1);
          const { count, near } = nearPairs(prepared);
          const curve = new Curve(shape.path);
          const p = Array.from({ length: count }, (_, i) => curve.pointAt(i / (count - 1)));
          const reach = p.map(
            (_, i) => prepared.profile.radiusAt((i / (count - 1)) * curve.length) * prepared.section.reach,
          );
          const slow = new Uint8Array(count);
          for (let i = 0; i < count; i++) {
            for (let j = i + 1; j < count; j++) {
              const d = Math.hypot(p[i][0] - p[j][0], p[i][1] - p[j][1], p[i][2] - p[j][2]);
              const way = ((j - i) / (count - 1)) * curve.length;
              const arc = closed ? Math.min(way, curve.length - way) : way;
              if (j - i === count - 1 && closed) continue;
              if (d < (reach[i] + reach[j]) * 1.02 && d < 0.6 * arc) slow[i] = slow[j] = 1;
            }
          }
          expect(near).toEqual(slow);
        },
      ),
      { seed, numRuns: 60 },
    );
  });
});
