import { describe, expect, it } from "vitest";
import { thinWallsOf } from "../../../src/checks/beams/thinWalls";
import { WornPiece } from "../../../src/checks/wornPiece";
import type { Part } from "../../../src/design/part";
import { Random } from "../../../src/design/random";
import type { Vec3 } from "../../../src/geometry/vector";
import { box, ellipsoid, insideOut, meshOf, moved, together } from "../shapes";
import { pieceOf, plastic, ring, solidAt, solidPrint, tubeThrough } from "./strengthPieces";

const wallsOf = async (parts: readonly Part[], limit = 0.9) => thinWallsOf(await pieceOf(parts), limit);

describe("thin walls", () => {
  it("finds the thickness and the area of a plate, and none where it is thick enough", async () => {
    const plate = (thickness: number): Part[] => [solidAt("plate", box([0, 0, 0], [40, 30, thickness]))];
    const [wall, ...others] = await wallsOf(plate(0.6));
    expect(others).toEqual([]);
    expect(wall.least).toBeCloseTo(0.6, 3);
    // The samples on the rim stand for some of the plate and are not thin across.
    expect(wall.area / 1200).toBeGreaterThan(0.8);
    expect(wall.area / 1200).toBeLessThan(1.01);
    expect(await wallsOf(plate(0.95))).toEqual([]);
  });

  it("finds the wall of a hollow ball and of a hollow tube", async () => {
    const shell = together(ellipsoid(20, 20, 20, 60, 90), insideOut(ellipsoid(19.3, 19.3, 19.3, 60, 90)));
    const parts = [solidAt("ball", ellipsoid(20, 20, 20, 6, 8))];
    const mesh = { ...shell, partOfTriangle: new Int32Array(shell.triangles.length / 3) };
    const ball = new WornPiece({
      mesh,
      parts,
      material: plastic,
      print: solidPrint,
      mass: 1,
      centre: [0, 0, 0],
    });
    const [wall] = thinWallsOf(ball, 0.9);
    expect(wall.least).toBeGreaterThan(0.66);
    expect(wall.least).toBeLessThan(0.72);
    expect(wall.area / (4 * Math.PI * 19.65 ** 2)).toBeCloseTo(1, 1);
    const pipe = (thickness: number): Part[] => [
      tubeThrough(
        "pipe",
        [
          [0, 0, 0],
          [0, 0, 40],
          [0, 10, 80],
        ] as Vec3[],
        {
          radii: 8,
          shape: { hollow: { wall: thickness, drain: 0, drainAt: 0.5 } },
        },
      ),
    ];
    const [thin] = await wallsOf(pipe(0.7));
    expect(thin.least).toBeGreaterThan(0.55);
    expect(thin.least).toBeLessThan(0.73);
    expect(thin.area).toBeGreaterThan(2500);
    expect(await wallsOf(pipe(1.4))).toEqual([]);
  });

  it("tells of what a cut leaves", async () => {
    const slab = solidAt("slab", box([-30, -30, 0], [30, 30, 8]));
    const groove: Part = {
      kind: "cut",
      name: "groove",
      body: { kind: "solid", mesh: solidAt("x", box([-20, -40, 0.5], [20, 40, 20])).mesh },
    };
    const [wall] = await wallsOf([slab, groove]);
    expect(wall.least).toBeCloseTo(0.5, 2);
    expect(wall.hollowed).toBeGreaterThan(0.9);
  });

  it("leaves wedges, edges, seams and thick tubes alone", async () => {
    const wedge = meshOf(
      [
        [0, 0, 0],
        [30, 0, 0],
        [30, 0, 20],
        [0, 40, 0],
        [30, 40, 0],
        [30, 40, 20],
      ],
      [
        [0, 1, 2],
        [3, 5, 4],
        [0, 3, 4],
        [0, 4, 1],
        [1, 4, 5],
        [1, 5, 2],
        [0, 2, 5],
        [0, 5, 3],
      ],
    );
    expect(await wallsOf([solidAt("wedge", wedge)])).toEqual([]);
    const seed = 5;
    const random = new Random(seed);
    const tubes = Array.from({ length: 12 }, (_, i) =>
      tubeThrough(
        `reed ${i}`,
        Array.from(
          { length: 5 },
          (): Vec3 => [random.between(-40, 40), random.between(-40, 40), random.between(-30, 30)],
        ),
        { radii: random.between(1.5, 4), tips: { kind: "round" } },
      ),
    );
    const found = await wallsOf([ring(), ...tubes]);
    expect(
      found.filter(({ area }) => area > 4),
      `seed ${seed}`,
    ).toEqual([]);
    expect(
      await wallsOf([solidAt("ball", moved(ellipsoid(0.7, 20, 20, 40, 60), [0, 0, 0]))], 0.9),
    ).toHaveLength(1);
  });
});
