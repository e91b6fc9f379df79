import { afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { BodyMaker } from "../../../src/build/bodies";
import type { Part } from "../../../src/design/part";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import { type Kernel, loadKernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder, type SolidInput } from "../../../src/geometry/solid/solidBuilder";
import type { Vec3 } from "../../../src/geometry/vector";
import { tube } from "../tubes";
import { ball, inputOf } from "./shapes";

/**
 * Volumes of unions and differences against closed forms. Formulas from E. W. Weisstein, MathWorld: "Sphere-Sphere
 * Intersection", "Spherical Ring", "Steinmetz Solid", "Torus" [memory of the pages; the first is derived again below by
 * adding its two caps].
 */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});
let builder: SolidBuilder;
beforeEach(() => {
  builder = new SolidBuilder(kernel);
});
afterEach(() => builder.dispose());

const sphere = (r: number) => (4 / 3) * Math.PI * r ** 3;

/** Volume that two spheres share ("Sphere-Sphere Intersection", eq. 15). */
const lens = (R: number, r: number, d: number) =>
  (Math.PI * (R + r - d) ** 2 * (d * d + 2 * d * r - 3 * r * r + 2 * d * R + 6 * r * R - 3 * R * R)) /
  (12 * d);

const cap = (r: number, height: number) => (Math.PI * height * height * (3 * r - height)) / 3;

/** What the finished mesh holds, judged by its STL, which must be one closed piece. */
async function volumeOf(input: SolidInput): Promise<number> {
  const found = await builder.build(input);
  const audit = auditStl(writeStl(found.mesh));
  expect(audit).toMatchObject({ closed: true, pieces: 1, insideOut: 0 });
  expect(found.pieces).toHaveLength(1);
  return audit.volumeMm3;
}

const within = (value: number, truth: number, share: number) =>
  expect(Math.abs(value / truth - 1)).toBeLessThan(share);

test("the formula of the lens is the sum of its two caps", () => {
  const [R, r, d] = [20, 12, 25];
  const x = (d * d - r * r + R * R) / (2 * d);
  expect(lens(R, r, d)).toBeCloseTo(cap(R, R - x) + cap(r, r - (d - x)), 8);
});

describe("balls", () => {
  test.each([
    [20, 12, 25],
    [20, 20, 15],
    [15, 5, 12],
  ])("radius %d and %d, %d apart: both less the lens", async (R, r, d) => {
    const truth = sphere(R) + sphere(r) - lens(R, r, d);
    within(await volumeOf(inputOf([ball([0, 0, 0], R), ball([d, 0, 0], r)])), truth, 1e-3);
  });

  test("one less the head: the lens is gone", async () => {
    const truth = sphere(20) - lens(40, 20, 45);
    const head = { key: "head", mesh: ball([0, 0, 45], 40) };
    within(await volumeOf(inputOf([ball([0, 0, 0], 20)], { head })), truth, 1e-3);
  });

  test("one drilled through its middle: the ring's volume hangs on its height only", async () => {
    const [radius, drill] = [20, 8];
    const height = 2 * Math.sqrt(radius ** 2 - drill ** 2);
    const rod = tube({
      path: {
        kind: "through",
        points: [
          [0, 0, -40],
          [0, 0, 40],
        ],
        closed: false,
      },
      radius: { shares: [0], radii: [drill] },
    });
    const { cuts } = new BodyMaker(0.02).bodiesOf([
      { kind: "cut", name: "drill", body: { kind: "tube", shape: rod } },
    ]);
    within(await volumeOf(inputOf([ball([0, 0, 0], radius)], { cuts })), (Math.PI * height ** 3) / 6, 2e-3);
  });
});

describe("tubes", () => {
  const rod = (name: string, from: Vec3, to: Vec3, radius: number): Part => ({
    kind: "tube",
    name,
    shape: tube({
      path: { kind: "through", points: [from, to], closed: false },
      radius: { shares: [0], radii: [radius] },
    }),
  });
  const volume = (parts: readonly Part[], tolerance = 0.02) =>
    volumeOf({ ...new BodyMaker(tolerance).bodiesOf(parts), crumbVolume: 1 });

  test("two crossing square: both cylinders less 16 r³ / 3", async () => {
    const [r, h] = [10, 70];
    const truth = 2 * Math.PI * r * r * h - (16 / 3) * r ** 3;
    const parts = [rod("a", [-h / 2, 0, 0], [h / 2, 0, 0], r), rod("b", [0, -h / 2, 0], [0, h / 2, 0], r)];
    within(await volume(parts), truth, 1e-3);
  });

  test("three crossing square: 8 (2 − √2) r³ are shared by all", async () => {
    const [r, h] = [10, 70];
    // Inclusion and exclusion: three cylinders, three pairs, the tricylinder.
    const truth = 3 * Math.PI * r * r * h - 3 * (16 / 3) * r ** 3 + 8 * (2 - Math.SQRT2) * r ** 3;
    const parts = [
      rod("a", [-h / 2, 0, 0], [h / 2, 0, 0], r),
      rod("b", [0, -h / 2, 0], [0, h / 2, 0], r),
      rod("c", [0, 0, -h / 2], [0, 0, h / 2], r),
    ];
    within(await volume(parts), truth, 1e-3);
  });

  test("one of 60° into another: the shared part is 16 r³ / 3 by the sine", async () => {
    const [r, h] = [6, 90];
    const angle = Math.PI / 3;
    const truth = 2 * Math.PI * r * r * h - ((16 / 3) * r ** 3) / Math.sin(angle);
    const [x, y] = [(h / 2) * Math.cos(angle), (h / 2) * Math.sin(angle)];
    within(
      await volume([rod("a", [-h / 2, 0, 0], [h / 2, 0, 0], r), rod("b", [-x, -y, 0], [x, y, 0], r)]),
      truth,
      1e-3,
    );
  });

  test("end to end, faces in one plane: twice the cylinder, one piece", async () => {
    const truth = Math.PI * 25 * 80;
    within(
      await volume([rod("a", [0, 0, 0], [0, 0, 40], 5), rod("b", [0, 0, 40], [0, 0, 80], 5)]),
      truth,
      1e-3,
    );
  });

  test("the same tube twice adds nothing", async () => {
    const twice = [rod("a", [0, 0, 0], [0, 0, 60], 5), rod("b", [0, 0, 0], [0, 0, 60], 5)];
    within(await volume(twice), Math.PI * 25 * 60, 1e-3);
  });
});
