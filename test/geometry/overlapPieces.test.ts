import Module, { type Manifold as Solid } from "manifold-3d";
import { beforeAll, describe, expect, it } from "vitest";
import type { BodyPiece } from "../../src/geometry/bodyPiece";
import { hollowPieces } from "../../src/geometry/hollow";
import { meshVolume } from "../../src/geometry/measure";
import { overlapPieces } from "../../src/geometry/overlapPieces";
import { sweepTube } from "../../src/geometry/sweep";
import type { TubeShape } from "../../src/geometry/tubeShape";
import type { Vec2, Vec3 } from "../../src/geometry/vector";
import { unionOfSections } from "./sections";
import { aroundHead, circlePoints, hairpin, meshFault, sampled, trefoilAt, tube, turned } from "./tubes";

let kernel: Awaited<ReturnType<typeof Module>>;
beforeAll(async () => {
  kernel = await Module();
  kernel.setup();
});

function united(pieces: readonly BodyPiece[]): Solid {
  const solids = pieces.map((piece) => {
    if (piece.kind === "mesh") {
      const { positions, triangles } = piece.mesh;
      return kernel.Manifold.ofMesh(
        new kernel.Mesh({ numProp: 3, vertProperties: positions, triVerts: triangles }),
      );
    }
    const p = piece.points;
    return kernel.Manifold.hull(
      Array.from({ length: p.length / 3 }, (_, i): [number, number, number] => [
        p[3 * i],
        p[3 * i + 1],
        p[3 * i + 2],
      ]),
    );
  });
  return kernel.Manifold.union(solids);
}

const along = (points: Vec3[], radius: number, given: Partial<TubeShape> = {}, closed = false) =>
  tube({
    path: { kind: "through", points: points.map(turned), closed },
    radius: { shares: [0], radii: [radius] },
    ...given,
  });
const notched: Vec2[] = [
  [1, -0.4],
  [1, 0.1],
  [-0.2, 0.1],
  [-0.2, 1],
  [-0.7, 1],
  [-0.7, -0.4],
];
const spiral = sampled(
  73,
  (t): Vec3 => [40 * Math.cos(6 * Math.PI * t), 40 * Math.sin(6 * Math.PI * t), 40 * t],
  true,
);

describe("overlapPieces", () => {
  it.each<[string, TubeShape, number]>([
    ["a hairpin, turn 4, radius 8", along(hairpin(4, 60), 8), 0.6],
    [
      "a sharp hairpin with round ends",
      along(hairpin(3, 60), 6, { startTip: { kind: "round" }, endTip: { kind: "round" } }),
      0.4,
    ],
    ["a trefoil through itself", along(sampled(72, trefoilAt(40, 15)), 16, {}, true), 1.2],
    ["a spindle torus", along(circlePoints(24, 6), 8, {}, true), 0.4],
    ["a spiral that touches its next turn", along(spiral, 8), 1],
    [
      "a hairpin with a notched outline",
      along(hairpin(4, 60), 8, { section: { kind: "outline", points: notched } }),
      0.7,
    ],
    [
      "a curl that tapers",
      along(
        [
          [0, 0, 0],
          [30, 0, 0],
          [32, 6, 0],
          [2, 9, 2],
        ],
        8,
        { radius: { shares: [0, 1], radii: [8, 3] } },
      ),
      0.4,
    ],
  ])("the pieces of %s unite to one closed body of the true volume", (_, shape, voxel) => {
    const pieces = overlapPieces(shape);
    expect(pieces.length).toBeLessThanOrEqual(60);
    for (const piece of pieces) {
      if (piece.kind !== "mesh") continue;
      expect(meshFault(piece.mesh)).toBeUndefined();
      expect(meshVolume(piece.mesh)).toBeGreaterThan(0);
    }
    const solid = united(pieces);
    expect(solid.decompose().length).toBe(1);
    expect(Math.abs(solid.volume() / unionOfSections(shape, voxel) - 1)).toBeLessThan(0.005);
  });

  it("the plain sweep of such a tube has a wrong volume: the pieces are needed", () => {
    const shape = along(hairpin(4, 60), 8);
    expect(meshVolume(sweepTube(shape)) / unionOfSections(shape, 0.8)).toBeGreaterThan(1.05);
  });

  it("hollows a tube that passes through itself: the outer union less the inner", () => {
    const points = sampled(72, trefoilAt(40, 15));
    const shape = along(points, 16, { hollow: { wall: 3, drain: 0, drainAt: 0 } }, true);
    const { add, remove } = hollowPieces(shape);
    const volume = united(add).subtract(united(remove)).volume();
    const wanted =
      unionOfSections(along(points, 16, {}, true), 1.6) - unionOfSections(along(points, 13, {}, true), 1.6);
    expect(Math.abs(volume / wanted - 1)).toBeLessThan(0.01);
  });

  it("an ordinary tube stays one mesh, its sweep", () => {
    const shape = tube({ path: { kind: "through", points: aroundHead, closed: false } });
    expect(overlapPieces(shape)).toEqual([{ kind: "mesh", mesh: sweepTube(shape) }]);
  });
});
