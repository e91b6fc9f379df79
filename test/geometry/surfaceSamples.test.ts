import { describe, expect, it } from "vitest";
import { surfaceSamples } from "../../src/geometry/surfaceSamples";
import { box, ellipsoid, torus, turned } from "../checks/shapes";

describe("samples of a surface", () => {
  it.each([
    ["a box", box([0, 0, 0], [60, 40, 20])],
    ["a torus", torus(80, 6, 24, 8)],
    [
      "a needle of long slivers",
      turned(
        [
          [0, 0],
          [2, 1],
          [2, 199],
          [0, 200],
        ],
        24,
      ),
    ],
    ["a ball of small triangles", ellipsoid(50, 50, 50, 60, 120)],
  ])("of %s cover it", (_name, mesh) => {
    const spacing = 4;
    const samples = surfaceSamples(mesh, spacing);
    const area = samples.areas.reduce((sum, own) => sum + own, 0);
    // The sum of the triangles' areas, by Heron of Alexandria, Metrica I.8.
    let wanted = 0;
    const { positions: p, triangles: t } = mesh;
    const apart = (i: number, j: number) =>
      Math.hypot(p[3 * i] - p[3 * j], p[3 * i + 1] - p[3 * j + 1], p[3 * i + 2] - p[3 * j + 2]);
    for (let i = 0; i < t.length; i += 3) {
      const [a, b, c] = [apart(t[i], t[i + 1]), apart(t[i + 1], t[i + 2]), apart(t[i + 2], t[i])];
      const s = (a + b + c) / 2;
      wanted += Math.sqrt(Math.max(0, s * (s - a) * (s - b) * (s - c)));
    }
    expect(area / wanted).toBeCloseTo(1, 3);
    expect(Array.from(samples.positions.slice(0, p.length))).toEqual(Array.from(p));
    // No point of a triangle is farther from a sample than the spacing.
    for (let i = 0; i < t.length; i += 3 * Math.ceil(t.length / 300)) {
      for (const weights of [
        [1, 1, 1],
        [4, 1, 1],
        [1, 4, 1],
        [1, 1, 4],
        [1, 1, 0],
        [0, 1, 1],
        [1, 0, 1],
      ]) {
        const sum = weights[0] + weights[1] + weights[2];
        const point = [0, 1, 2].map((axis) =>
          weights.reduce((total, w, k) => total + (w / sum) * p[3 * t[i + k] + axis], 0),
        );
        let near = Infinity;
        for (let k = 0; k < samples.count; k++) {
          const q = samples.positions;
          near = Math.min(
            near,
            Math.hypot(q[3 * k] - point[0], q[3 * k + 1] - point[1], q[3 * k + 2] - point[2]),
          );
        }
        expect(near).toBeLessThanOrEqual(spacing);
      }
    }
    for (let k = 0; k < samples.count; k++) {
      const [x, y, z] = [0, 1, 2].map((axis) => samples.normals[3 * k + axis]);
      expect(Math.hypot(x, y, z)).toBeCloseTo(1, 3);
    }
  });
});
