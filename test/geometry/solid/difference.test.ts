import { beforeAll, expect, test } from "vitest";
import { meshVolume } from "../../../src/geometry/measure";
import { solidDifferences } from "../../../src/geometry/solid/difference";
import { type Kernel, loadKernel } from "../../../src/geometry/solid/kernel";
import { ball, box } from "./shapes";

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

/** Volume of two caps of height h that two balls share, from E. W. Weisstein, MathWorld, "Spherical Cap" [from memory]. */
const cap = (r: number, h: number) => (Math.PI * h * h * (3 * r - h)) / 3;

test("a ball moved by half its radius: what is added is what is removed, by closed form", () => {
  const r = 20;
  const { added, removed } = solidDifferences(kernel, ball([0, 0, 0], r), ball([r / 2, 0, 0], r));
  const shared = 2 * cap(r, r - r / 4);
  const expected = (4 / 3) * Math.PI * r ** 3 - shared;
  expect(added.volume / expected).toBeCloseTo(1, 2);
  expect(removed.volume / expected).toBeCloseTo(1, 2);
  expect(meshVolume(added.mesh)).toBeCloseTo(added.volume, 1);
  expect(meshVolume(removed.mesh)).toBeCloseTo(removed.volume, 1);
});

test("a box that grew and lost nothing; the other way round", () => {
  const [small, large] = [box([0, 0, 0], [10, 20, 30]), box([0, 0, 0], [10, 20, 35])];
  const grown = solidDifferences(kernel, small, large);
  expect(grown.added.volume).toBeCloseTo(1000, 3);
  expect(grown.removed).toMatchObject({ volume: 0 });
  const shrunk = solidDifferences(kernel, large, small);
  expect(shrunk.removed.volume).toBeCloseTo(1000, 3);
  expect(shrunk.added.volume).toBe(0);
});

test("a hole comes as what was in it", () => {
  const whole = box([-20, -20, -20], [20, 20, 20]);
  const inner = ball([0, 0, 0], 10);
  const turned = Uint32Array.from(inner.triangles, (_, i, all = inner.triangles) =>
    i % 3 === 0 ? all[i] : i % 3 === 1 ? all[i + 1] : all[i - 1],
  );
  const hollow = {
    positions: Float32Array.from([...whole.positions, ...inner.positions]),
    triangles: Uint32Array.from([...whole.triangles, ...turned.map((v) => v + whole.positions.length / 3)]),
  };
  const { added, removed } = solidDifferences(kernel, whole, hollow);
  expect(removed.volume / ((4 / 3) * Math.PI * 1000)).toBeCloseTo(1, 4);
  expect(added.volume).toBe(0);
});

test("the same solid: nothing", () => {
  const ball20 = ball([3, 4, 5], 20);
  expect(solidDifferences(kernel, ball20, ball20).added.mesh.triangles.length).toBe(0);
});
