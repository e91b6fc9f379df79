import { afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import { type Kernel, loadKernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder } from "../../../src/geometry/solid/solidBuilder";
import { ball, bodyOf, box, cube, inputOf, insideOut, signedVolume, together } from "./shapes";

/** What is kept of a result and what is told of it. Boxes, so that every number is exact [computed]. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});
let builder: SolidBuilder;
beforeEach(() => {
  builder = new SolidBuilder(kernel);
});
afterEach(() => builder.dispose());

describe("where each triangle comes from", () => {
  test("by its place: two boxes and the head", async () => {
    const left = box([-30, -5, -5], [2, 5, 5]);
    const right = box([-2, -4, -4], [30, 4, 4]);
    const head = { key: "head", mesh: cube([0, 0, -20], 34) };
    const { mesh } = await builder.build(inputOf([left, right], { head }));
    const seen = new Set<number>();
    for (let t = 0; t < mesh.partOfTriangle.length; t++) {
      const corners = [0, 1, 2].map((k) => 3 * mesh.triangles[3 * t + k]);
      const middle = [0, 1, 2].map(
        (axis) => corners.reduce((sum, at) => sum + mesh.positions[at + axis], 0) / 3,
      );
      const part = mesh.partOfTriangle[t];
      seen.add(part);
      const onHeadTop = Math.abs(middle[2] + 3) < 1e-4 && Math.abs(middle[0]) < 17;
      const onHeadSide = Math.abs(Math.abs(middle[0]) - 17) < 1e-4 && middle[2] < -3;
      if (onHeadTop || onHeadSide) expect(part).toBe(-1);
      else if (middle[0] > 2 + 1e-4) expect(part).toBe(1);
      else if (middle[0] < 2 - 1e-4) expect(part).toBe(0);
    }
    expect([...seen].sort()).toEqual([-1, 0, 1]);
  });

  test("by the order in which the bodies are given, whatever their names", async () => {
    const far = bodyOf("a", cube([20, 0, 0], 12));
    const near = bodyOf("z", cube([10, 0, 0], 12));
    for (const bodies of [
      [far, near],
      [near, far],
    ]) {
      const { mesh } = await builder.build({ bodies, cuts: [], crumbVolume: 1 });
      let rightmost = 0;
      for (let i = 0; i < mesh.triangles.length; i++) {
        if (mesh.positions[3 * mesh.triangles[i]] > mesh.positions[3 * mesh.triangles[rightmost]])
          rightmost = i;
      }
      expect(bodies[mesh.partOfTriangle[Math.floor(rightmost / 3)]]).toBe(far);
    }
  });

  test("also of a body of several pieces with a core", async () => {
    const body = {
      ...bodyOf("pipe", cube([0, 0, 0], 20), [cube([0, 0, 0], 10)]),
      add: [cube([0, 0, 0], 20), cube([15, 0, 0], 18)].map((mesh) => ({ kind: "mesh" as const, mesh })),
    };
    const { mesh } = await builder.build({ bodies: [body], cuts: [], crumbVolume: 1 });
    expect(new Set(mesh.partOfTriangle)).toEqual(new Set([0]));
  });
});

describe("pieces", () => {
  test("loose ones, the largest first, with their bodies", async () => {
    const found = await builder.build(
      inputOf([cube([50, 0, 0], 10), cube([0, 0, 0], 20), cube([54, 0, 0], 10), cube([0, 0, 60], 12)]),
    );
    expect(found.pieces.map(({ volume, bodies }) => [Math.round(volume * 1e3) / 1e3, bodies])).toEqual([
      [8000, [1]],
      [1728, [3]],
      [1400, [0, 2]],
    ]);
    expect([found.hidden, found.lost, found.voids]).toEqual([[], [], []]);
  });

  test("a body that others or the head swallow is hidden", async () => {
    const head = { key: "head", mesh: cube([0, 0, -40], 40) };
    const found = await builder.build(
      inputOf([cube([0, 0, 0], 30), cube([1, 2, 3], 5), cube([0, 0, -40], 10)], { head }),
    );
    expect(found.hidden).toEqual([1, 2]);
    expect(found.pieces.map(({ bodies }) => bodies)).toEqual([[0]]);
  });

  test("a body that two others swallow together is hidden", async () => {
    const found = await builder.build(
      inputOf([box([-20, -10, -10], [1, 10, 10]), box([-1, -10, -10], [20, 10, 10]), cube([0, 0, 0], 8)]),
    );
    expect(found.hidden).toEqual([2]);
  });

  test("nothing is left where the head takes all", async () => {
    const head = { key: "head", mesh: cube([0, 0, 0], 100) };
    const found = await builder.build(inputOf([cube([0, 0, 0], 30), cube([30, 0, 0], 30)], { head }));
    expect(found).toMatchObject({ pieces: [], hidden: [0, 1], lost: [] });
    expect(found.mesh.triangles).toHaveLength(0);
  });
});

describe("crumbs", () => {
  test("are dropped, counted and weighed; a body that goes with them is lost", async () => {
    const found = await builder.build(
      inputOf([
        cube([0, 0, 0], 20),
        cube([40, 0, 0], 0.9),
        together(cube([9, 0, 0], 10), cube([50, 0, 0], 0.5)),
      ]),
    );
    expect(found.crumbs.count).toBe(2);
    expect(found.crumbs.volume).toBeCloseTo(0.9 ** 3 + 0.5 ** 3, 4);
    expect(found.lost).toEqual([1]);
    expect(found.hidden).toEqual([]);
    expect(found.pieces).toHaveLength(1);
    const audit = auditStl(writeStl(found.mesh));
    expect(audit).toMatchObject({ closed: true, pieces: 1 });
    expect(audit.volumeMm3).toBeCloseTo(8000 + 4 * 100, 1);
  });

  test("stand for a stated volume: just above it a piece stays", async () => {
    const meshes = [cube([0, 0, 0], 20), cube([40, 0, 0], 1.01)];
    expect((await builder.build(inputOf(meshes))).pieces).toHaveLength(2);
    expect((await builder.build(inputOf(meshes, { crumbVolume: 2 }))).pieces).toHaveLength(1);
  });

  test("what the head leaves of a body may be a crumb", async () => {
    const head = { key: "head", mesh: cube([0, 0, 0], 40) };
    const found = await builder.build(inputOf([cube([30, 0, 0], 25), cube([0, 0, 20.5 - 4], 8)], { head }));
    // 8 × 8 × 0.5 mm stand out of the head.
    expect(found.pieces).toHaveLength(2);
    const less = await builder.build(inputOf([cube([30, 0, 0], 25), cube([0, 0, 16.01], 8)], { head }));
    expect(less).toMatchObject({ lost: [1], crumbs: { count: 1 } });
  });
});

describe("voids", () => {
  const shell = (name: string, edge: number) => bodyOf(name, cube([0, 0, 0], 30), [cube([4, 5, 6], edge)]);

  test("real ones are kept and told with their middle", async () => {
    const found = await builder.build({ bodies: [shell("pot", 10)], cuts: [], crumbVolume: 1 });
    expect(found.voids).toHaveLength(1);
    expect(found.voids[0].volume).toBeCloseTo(1000, 3);
    expect(found.voids[0].at.map((x) => Math.round(x * 1e4) / 1e4)).toEqual([4, 5, 6]);
    expect(found.filled.count).toBe(0);
    expect(signedVolume(found.mesh)).toBeCloseTo(27000 - 1000, 1);
    expect(auditStl(writeStl(found.mesh))).toMatchObject({ closed: true, pieces: 1, voids: 1 });
  });

  test("specks are filled, counted and weighed", async () => {
    const found = await builder.build({ bodies: [shell("pot", 0.8)], cuts: [], crumbVolume: 1 });
    expect(found.voids).toEqual([]);
    expect(found.filled.count).toBe(1);
    expect(found.filled.volume).toBeCloseTo(0.8 ** 3, 4);
    expect(signedVolume(found.mesh)).toBeCloseTo(27000, 1);
  });

  test("a piece inside a void is a piece of its own", async () => {
    const pot = bodyOf("pot", cube([0, 0, 0], 30), [cube([0, 0, 0], 20)]);
    const bead = bodyOf("bead", ball([0, 0, 0], 5, 48));
    const found = await builder.build({ bodies: [pot, bead], cuts: [], crumbVolume: 1 });
    expect(found.pieces.map(({ bodies }) => bodies)).toEqual([[0], [1]]);
    expect(found.voids).toHaveLength(1);
  });

  test("a void given as an inner shell that faces inwards stays a void", async () => {
    const mesh = together(cube([0, 0, 0], 30), insideOut(cube([0, 0, 0], 10)));
    const found = await builder.build(inputOf([mesh]));
    expect(found.voids.map(({ volume }) => Math.round(volume))).toEqual([1000]);
  });
});

test("cuts of the whole come off last, from every body", async () => {
  const found = await builder.build(
    inputOf([cube([0, 0, 0], 20), cube([18, 0, 0], 20)], {
      cuts: [{ kind: "mesh", mesh: box([-30, -2, -30], [60, 2, 30]) }],
    }),
  );
  expect(found.pieces).toHaveLength(2);
  expect(signedVolume(found.mesh)).toBeCloseTo(38 * 20 * 16, 1);
});
