import { beforeAll, describe, expect, test } from "vitest";
import { BodyMaker } from "../../../src/build/bodies";
import { solidOfBody, solidOfMesh } from "../../../src/geometry/solid/body";
import { coveringPoints, coverOf } from "../../../src/geometry/solid/cover";
import { type Kernel, loadKernel, Scope } from "../../../src/geometry/solid/kernel";
import { randomTubes } from "../../bench/model";
import { ball, bodyOf, box, cube, moved, together } from "./shapes";

/** A cover must hold all of the body, and the roomier one all of the other: asked of the kernel itself. */

let kernel: Kernel;
beforeAll(async () => {
  kernel = await loadKernel();
});

const tubes = new BodyMaker(0.1).bodiesOf(
  randomTubes(6, 23).map((shape, i) => ({ kind: "tube" as const, name: `tube ${i + 1}`, shape })),
).bodies;

/** A frame round a hole: two strands in most slabs, one at each end. */
const frame = bodyOf("frame", box([-50, -40, -5], [50, 40, 5]), [box([-44, -34, -9], [44, 34, 9])]);
/** Turned so that none of its faces lies in a slab's plane. */
const turned = bodyOf(
  "turned box",
  moved(box([-60, -8, -3], [60, 8, 3]), ([x, y, z]) => [0.8 * x - 0.6 * y, 0.6 * x + 0.8 * y, z]),
);
const bodies = [
  ...tubes,
  frame,
  turned,
  bodyOf("thin wall", box([0, 0, 0], [100, 80, 0.3])),
  bodyOf("cube", cube([3, 4, 5], 30)),
  bodyOf("ball with a void", ball([0, 0, 0], 30), [ball([0, 0, 0], 24)]),
  bodyOf("two balls", together(ball([0, 0, 0], 10, 24), ball([0, 90, 0], 10, 24))),
];

describe("a cover", () => {
  test.each(bodies.map((body) => [body.name, body] as const))("of the %s holds all of it", (_, body) => {
    const scope = new Scope();
    const solid = scope.hold(solidOfBody(kernel, body));
    const { vertProperties, triVerts } = solid.getMesh();
    const groups = coveringPoints({ positions: vertProperties, triangles: triVerts });
    const close = scope.hold(coverOf(kernel, groups, 0.1));
    const roomy = scope.hold(coverOf(kernel, groups, 0.2));
    expect(scope.hold(solid.subtract(close)).isEmpty()).toBe(true);
    expect(scope.hold(close.subtract(roomy)).isEmpty()).toBe(true);
    // The nearest that its surface comes to the body is the room that was asked for, but for the kernel's rounding.
    expect(scope.hold(close.subtract(solid)).volume()).toBeGreaterThan(0.09 * solid.surfaceArea());
    expect(roomy.volume()).toBeGreaterThan(close.volume());
    scope.dispose();
  });

  test("of a tube is not much more than the tube", () => {
    const scope = new Scope();
    for (const body of tubes) {
      const solid = scope.hold(solidOfBody(kernel, body));
      const { vertProperties, triVerts } = solid.getMesh();
      const groups = coveringPoints({ positions: vertProperties, triangles: triVerts });
      const cover = scope.hold(coverOf(kernel, groups, 0.1));
      expect(cover.volume(), body.name).toBeLessThan(4 * solid.volume());
      const { min, max } = cover.boundingBox();
      const own = solid.boundingBox();
      for (let axis = 0; axis < 3; axis++) {
        expect(min[axis]).toBeGreaterThan(own.min[axis] - 12);
        expect(max[axis]).toBeLessThan(own.max[axis] + 12);
      }
    }
    scope.dispose();
  });

  test("of a mesh that has triangles longer than a slab", () => {
    const scope = new Scope();
    const solid = scope.hold(solidOfMesh(kernel, box([0, 0, 0], [200, 2, 2]), "rod"));
    const { vertProperties, triVerts } = solid.getMesh();
    const groups = coveringPoints({ positions: vertProperties, triangles: triVerts });
    expect(groups.length).toBeGreaterThan(10);
    expect(scope.hold(solid.subtract(scope.hold(coverOf(kernel, groups, 0.05)))).isEmpty()).toBe(true);
    scope.dispose();
  });
});
