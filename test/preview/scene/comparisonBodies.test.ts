import type { BufferGeometry, Mesh } from "three";
import { beforeEach, describe, expect, test } from "vitest";
import { ComparisonBodies } from "../../../src/preview/scene/comparisonBodies";
import { Materials } from "../../../src/preview/scene/materials";
import { nearLook } from "../../../src/preview/scene/nearLook";
import { axesOf } from "../../../src/preview/scene/pose";
import { buffersOf, cube } from "./shapes";

const none = { positions: new ArrayBuffer(0), triangles: new ArrayBuffer(0) };
const meshes = { old: buffersOf(cube(40)), added: buffersOf(cube(10)), removed: buffersOf(cube(20)) };

let materials: Materials;
let bodies: ComparisonBodies;
beforeEach(() => {
  materials = new Materials();
  bodies = new ComparisonBodies(materials);
});
const strengths = () =>
  [materials.added, materials.removed].map(({ uniforms }) => uniforms.strength.value as number);

describe("a piece beside its old version", () => {
  test("is not there before it comes, nor while it is not looked at", () => {
    bodies.arrange(0.25, true);
    expect([bodies.isShown, bodies.matter, bodies.ghost]).toEqual([false, undefined, undefined]);
    bodies.take(meshes);
    expect(bodies.isShown).toBe(true);
    bodies.arrange(0.25, false);
    expect([bodies.isShown, bodies.matter, bodies.differences(), bodies.boxes()]).toEqual([
      false,
      undefined,
      [],
      [],
    ]);
  });

  test.each([
    // share, old as matter, old as ghost, now as ghost, how many differences
    [0, true, false, false, 0],
    [0.25, true, false, true, 2],
    [0.5, false, true, false, 2],
    [0.75, false, true, false, 2],
    [1, false, false, false, 0],
  ])("at %d of the way", (share, isOldMatter, isOldGhost, isNewGhost, differences) => {
    bodies.take(meshes);
    bodies.arrange(share, true);
    expect(bodies.matter !== undefined).toBe(isOldMatter);
    expect(bodies.ghost !== undefined).toBe(isOldGhost);
    expect(bodies.isNewGhost).toBe(isNewGhost);
    expect(bodies.differences()).toHaveLength(differences);
    const wanted = 1 - Math.abs(2 * share - 1);
    expect(strengths()).toEqual([wanted, wanted]);
  });

  test("each difference has its own material; one of nothing is left out", () => {
    bodies.take({ ...meshes, added: none });
    bodies.arrange(0.5, true);
    const found = bodies.differences().map(({ scene }) => (scene.children[0] as Mesh).material);
    expect(found).toEqual([materials.removed]);
  });

  test("that is out of date is fainter", () => {
    bodies.take(meshes);
    bodies.arrange(0.5, true);
    bodies.isOutdated = true;
    for (const strength of strengths()) expect(strength).toBeLessThan(0.6);
    bodies.isOutdated = false;
    expect(strengths()).toEqual([1, 1]);
  });

  test("frees what it had when another comes or it ends", () => {
    bodies.take(meshes);
    bodies.arrange(0, true);
    const freed: BufferGeometry[] = [];
    const [{ geometry }] = bodies.surfaces();
    geometry.addEventListener("dispose", ({ target }) => freed.push(target));
    bodies.take(undefined);
    expect(freed).toEqual([geometry]);
    expect(bodies.isShown).toBe(false);
  });

  test("is cut with the rest", () => {
    materials.setCut({ normal: [1, 0, 0], offset: 0 });
    for (const name of ["added", "removed", "differenceDepth", "otherPiece", "otherPieceDepth"] as const) {
      expect(materials[name].defines.IS_CUT).toBe("");
    }
  });
});

describe("a look at a place", () => {
  const box = { least: [-100, -100, 0], most: [100, 100, 100] } as const;
  const front = { azimuth: 0, elevation: 0, target: [0, 0, 50], span: 400 } as const;

  test("from where it is seen keeps the side and comes near", () => {
    const near = nearLook(front, [0, 100, 50], box);
    expect(near).toMatchObject({ azimuth: 0, elevation: 0, target: [0, 100, 50] });
    expect(near.span).toBeLessThan(150);
  });

  test("on the other side goes round to it", () => {
    const near = nearLook(front, [0, -100, 50], box);
    const { direction } = axesOf(near);
    expect(direction[1]).toBeLessThan(-0.8);
    expect(near.target).toEqual([0, -100, 50]);
  });

  test("from nearer than that does not step back", () => {
    expect(nearLook({ ...front, span: 30 }, [0, 100, 50], box).span).toBe(30);
  });

  test("at the middle of the piece only comes near", () => {
    expect(nearLook(front, [0, 0, 50], box)).toMatchObject({ azimuth: 0, elevation: 0 });
  });
});
