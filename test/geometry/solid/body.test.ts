import { afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { type Body, BodyError } from "../../../src/geometry/solid/body";
import { type Kernel, loadKernel } from "../../../src/geometry/solid/kernel";
import { SolidBuilder } from "../../../src/geometry/solid/solidBuilder";
import { ball, bodyOf, box, cube, inputOf, insideOut, moved, signedVolume } from "./shapes";

/** Which meshes are taken for a body, and what is said of those that are not. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});
let builder: SolidBuilder;
beforeEach(() => {
  builder = new SolidBuilder(kernel);
});
afterEach(() => builder.dispose());

const build = (bodies: readonly Body[]) => builder.build({ bodies, cuts: [], crumbVolume: 1 });

describe("taken as it is meant", () => {
  test("a mesh that is inside out", async () => {
    const { mesh, pieces } = await build([bodyOf("pearl", insideOut(cube([0, 0, 0], 10)))]);
    expect(pieces[0].volume).toBeCloseTo(1000, 6);
    expect(signedVolume(mesh)).toBeCloseTo(1000, 3);
  });

  test("a mirrored mesh whose triangles were left as they were", async () => {
    const half = moved(ball([12, 3, 0], 8, 48), ([x, y, z]) => [-x, y, z]);
    expect(signedVolume(half)).toBeLessThan(0);
    const { mesh } = await build([bodyOf("right", ball([12, 3, 0], 8, 48)), bodyOf("left", half)]);
    expect(signedVolume(mesh)).toBeCloseTo(2 * (4 / 3) * Math.PI * 512, 0);
  });

  test("one inside out among others, under the head and as a cut", async () => {
    const bodies = [bodyOf("a", cube([0, 0, 0], 20)), bodyOf("b", insideOut(cube([15, 0, 0], 20)))];
    const { mesh } = await builder.build({
      bodies,
      cuts: [{ kind: "mesh", mesh: insideOut(box([-20, -20, 5], [40, 20, 20])) }],
      head: { key: "head", mesh: insideOut(box([-20, -20, -20], [40, 20, -5])) },
      crumbVolume: 1,
    });
    expect(signedVolume(mesh)).toBeCloseTo(35 * 20 * 10, 1);
  });

  test("the hull of points", async () => {
    const points = new Float32Array([...cube([0, 0, 0], 10).positions, 0, 0, 11, 1, 2, 3]);
    const body: Body = { key: "h", name: "hull", add: [{ kind: "hull", points }], remove: [] };
    // A cube with a pyramid of 6 mm on top.
    expect((await build([body])).pieces[0].volume).toBeCloseTo(1000 + (100 * 6) / 3, 4);
  });
});

describe("refused, naming the body", () => {
  const whole = cube([0, 0, 0], 10);
  const changed = (change: (positions: Float32Array, triangles: Uint32Array) => void): TriangleMesh => {
    const [positions, triangles] = [whole.positions.slice(), whole.triangles.slice()];
    change(positions, triangles);
    return { positions, triangles };
  };

  test.each<[string, TriangleMesh]>([
    ["a triangle is missing", { ...whole, triangles: whole.triangles.slice(0, -3) }],
    ["a triangle is there twice", { ...whole, triangles: Uint32Array.of(...whole.triangles, 0, 2, 3) }],
    [
      "a triangle is turned",
      changed((_, t) => t.copyWithin(1, 2, 3).fill(t[1], 2, 3).fill(2, 1, 2).fill(0, 2, 3)),
    ],
    ["a coordinate is NaN", changed((p) => p.fill(Number.NaN, 4, 5))],
    ["a coordinate is infinite", changed((p) => p.fill(Number.POSITIVE_INFINITY, 4, 5))],
    ["a vertex is missing", changed((_, t) => t.fill(99, 0, 1))],
    ["there is nothing in it", { positions: new Float32Array(), triangles: new Uint32Array() }],
    ["it is flat", moved(whole, ([x, y]) => [x, y, 0])],
  ])("%s", async (_, mesh) => {
    const error = await build([bodyOf("good", cube([30, 0, 0], 10)), bodyOf("brow stone", mesh)]).catch(
      (e) => e,
    );
    expect(error).toBeInstanceOf(BodyError);
    expect((error as BodyError).body).toBe("brow stone");
    expect((error as BodyError).message).toContain('"brow stone"');
    // The builder is as good as before.
    expect((await build([bodyOf("good", cube([30, 0, 0], 10))])).pieces).toHaveLength(1);
  });

  test("the hull of points that are no numbers", async () => {
    const points = cube([0, 0, 0], 10).positions.slice().fill(Number.NaN, 3, 4);
    const body: Body = { key: "h", name: "hull", add: [{ kind: "hull", points }], remove: [] };
    await expect(build([body])).rejects.toThrow(BodyError);
  });

  test("a core that is open, an open cut, an open head", async () => {
    const open = { ...whole, triangles: whole.triangles.slice(3) };
    await expect(build([bodyOf("pipe", cube([0, 0, 0], 20), [open])])).rejects.toMatchObject({
      body: "pipe",
    });
    const cuts = [{ kind: "mesh" as const, mesh: open }];
    await expect(builder.build(inputOf([whole], { cuts }))).rejects.toThrow(BodyError);
    await expect(builder.build(inputOf([whole], { head: { key: "x", mesh: open } }))).rejects.toThrow(
      BodyError,
    );
  });

  test("a body that its own cuts take away whole", async () => {
    await expect(build([bodyOf("bead", cube([0, 0, 0], 5), [whole])])).rejects.toMatchObject({
      body: "bead",
    });
  });
});
