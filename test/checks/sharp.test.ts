import { describe, expect, it } from "vitest";
import { sharpEdges } from "../../src/checks/edges/sharpEdges";
import { fitsSmallPartsCylinder } from "../../src/checks/edges/smallParts";
import { sharp } from "../../src/checks/sharp";
import type { TubePart } from "../../src/design/part";
import { sweepTube } from "../../src/geometry/sweep";
import type { Tip } from "../../src/geometry/tubeShape";
import type { Vec3 } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, meshOf, moved, turned } from "./shapes";
import { partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const adult = { isChild: false };

/** A prism over an isosceles triangle whose sides meet at `angle` degrees. */
function wedge(angle: number, length: number) {
  const half = (angle * Math.PI) / 360;
  const [x, y] = [40 * Math.sin(half), 40 * Math.cos(half)];
  const corners: Vec3[] = [0, length].flatMap((z): Vec3[] => [
    [0, 0, z],
    [x, y, z],
    [-x, y, z],
  ]);
  return meshOf(corners, [
    [0, 2, 1],
    [3, 4, 5],
    [0, 1, 4],
    [0, 4, 3],
    [1, 2, 5],
    [1, 5, 4],
    [2, 0, 3],
    [2, 3, 5],
  ]);
}

describe("sharp edges", () => {
  it.each([20, 35, 50, 58])("a wedge of %i° over 70 mm is found, with its angle and length", (angle) => {
    const [edge] = sharpEdges(pieceOf(wedge(angle, 70)), 60);
    expect(edge.angle).toBeCloseTo(angle, 2);
    expect(edge.length).toBeCloseTo(70, 3);
    expect(Math.hypot(edge.at[0], edge.at[1])).toBeCloseTo(0, 3);
  });

  it("a blunter wedge, a box, and a groove that is as acute inwards are none", () => {
    // The wedge of 62° has two other edges of 59° by the sum of a triangle's angles (Euclid, Elements I.32).
    expect(sharpEdges(pieceOf(wedge(62, 70)), 58)).toEqual([]);
    expect(sharpEdges(pieceOf(box([0, 0, 0], [9, 9, 9])), 60)).toEqual([]);
    const groove = turned(
      [
        [0, 0],
        [30, 0],
        [30, 20],
        [20, 20],
        [19, 2],
        [18, 20],
        [0, 20],
      ],
      60,
    );
    expect(sharpEdges(pieceOf(groove), 60)).toEqual([]);
  });

  it("a crumb of an edge is not told", () => {
    expect(sharpEdges(pieceOf(wedge(20, 4)), 40)).toEqual([]);
  });
});

describe("the small-parts cylinder of 16 CFR 1501.4", () => {
  const fits = (mesh: { positions: Float32Array }) => fitsSmallPartsCylinder(mesh.positions);

  it("takes a ball of 31 mm and refuses one of 32.5 mm, wherever it lies", () => {
    const ball = (diameter: number) =>
      moved(ellipsoid(diameter / 2, diameter / 2, diameter / 2, 16, 24), [100, -40, 7]);
    expect(fits(ball(31))).toBe(true);
    expect(fits(ball(32.5))).toBe(false);
  });

  it("takes a rod of 54 mm, turned any way, and refuses one of 66 mm", () => {
    expect(
      fits(
        turned(
          [
            [0, 0],
            [3, 0],
            [3, 54],
            [0, 54],
          ],
          12,
        ),
      ),
    ).toBe(true);
    // Longer than the diagonal from the rim to the deepest point, √(31.7² + 57.1²) = 65.3 mm (Pythagoras).
    expect(
      fits(
        turned(
          [
            [0, 0],
            [0.5, 0],
            [0.5, 66],
            [0, 66],
          ],
          12,
        ),
      ),
    ).toBe(false);
    expect(fits(box([0, 0, 0], [54, 5, 5]))).toBe(true);
  });

  it("refuses a full cylinder deeper than the shallow side, and a plate that is too wide", () => {
    expect(
      fits(
        turned(
          [
            [0, 0],
            [15.5, 0],
            [15.5, 25],
            [0, 25],
          ],
          48,
        ),
      ),
    ).toBe(true);
    expect(
      fits(
        turned(
          [
            [0, 0],
            [15.5, 0],
            [15.5, 30],
            [0, 30],
          ],
          48,
        ),
      ),
    ).toBe(false);
    expect(fits(box([0, 0, 0], [35, 35, 3]))).toBe(false);
  });
});

const stalk = (name: string, line: number, endTip: Tip, x = 0, length = 90): TubePart => ({
  kind: "tube",
  name,
  shape: {
    path: {
      kind: "through",
      points: [
        [x, 0, 0],
        [x, 0, length / 2],
        [x, 0, length],
      ],
      closed: false,
    },
    radius: { shares: [0], radii: [4] },
    section: { kind: "circle" },
    twist: 0,
    startTip: { kind: "flat" },
    endTip,
  },
  origin: { file: "tide.headpiece.ts", line, column: 1 },
});

const piece = (parts: readonly TubePart[], more: readonly ReturnType<typeof box>[] = []) =>
  pieceOf([...parts.map(({ shape }) => sweepTube(shape)), ...more], {
    parts: [...parts, ...more.map((mesh, i) => partOf(`bead ${i + 1}`, 50 + i, mesh))],
  });

describe("what is sharp and small", () => {
  const ids = (found: ReturnType<typeof sharp>) => found.findings.map(({ id }) => id);

  it("a pointed tip is told with its radius and line, and a blunt twin is not", () => {
    const pointed = sharp(
      piece([stalk("spine", 12, { kind: "point", radius: 0.6, length: 20 })]),
      adult,
      limits,
    );
    expect(pointed.tips[0].radius).toBeCloseTo(0.6, 6);
    expect(Math.abs(pointed.tips[0].at[2] - 90.6)).toBeLessThan(0.01);
    expect(pointed.findings[0]).toMatchObject({
      id: "sharp-tip",
      severity: "warning",
      part: "spine",
      line: 12,
      unit: "mm",
      limit: { name: "tipRadius", value: 1.5 },
    });
    expect(pointed.findings[0].suggestion).toContain("children");
    const blunt = sharp(
      piece([stalk("spine", 12, { kind: "point", radius: 1.8, length: 20 })]),
      adult,
      limits,
    );
    expect(ids(blunt)).toEqual([]);
  });

  it("a tip that lies in another part is none, and tips of one line are told together", () => {
    const point: Tip = { kind: "point", radius: 0.6, length: 20 };
    // What a union leaves of a spine that ends in a block is the block round its tip.
    const block = box([-30, -30, 80], [30, 30, 130]);
    const sunk = sharp(pieceOf(block, { parts: [stalk("spine", 12, point)] }), adult, limits);
    expect(sunk.tips).toEqual([]);
    const many = [0, 40, 80, 120, 160].map((x, i) => stalk(`spine ${i + 1}`, 12, point, x));
    const found = sharp(piece(many), adult, limits);
    expect(found.findings).toHaveLength(1);
    expect(found.findings[0].text).toContain('"spine 1", "spine 2", "spine 3" and 2 more');
  });

  it("small things that could snap off are a note, for a child's piece a warning; the larger twin is none", () => {
    const bead = moved(ellipsoid(6, 6, 6, 12, 20), [0, 0, 60]);
    const large = moved(ellipsoid(20, 20, 20, 16, 24), [0, 0, 60]);
    const plain = sharp(pieceOf(bead), adult, limits);
    expect(plain.findings).toMatchObject([{ id: "small-parts", severity: "note" }]);
    expect(sharp(pieceOf(bead), { isChild: true }, limits).findings[0].severity).toBe("warning");
    expect(ids(sharp(pieceOf(large), { isChild: true }, limits))).toEqual([]);
  });

  it("a sharp edge is told, and not where the workshop allows it", () => {
    const found = sharp(pieceOf(wedge(40, 70)), adult, limits);
    expect(ids(found)).toEqual(["sharp-edge"]);
    expect(found.findings[0].text).toContain("70 mm of sharp edge, down to 40°");
    expect(ids(sharp(pieceOf(wedge(40, 70)), adult, limitsOf({ design: { edgeAngle: 30 } })))).toEqual([]);
  });
});
