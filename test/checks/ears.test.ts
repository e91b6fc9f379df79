import { describe, expect, it } from "vitest";
import { type Ears, ears } from "../../src/checks/ears";
import { WornPiece } from "../../src/checks/wornPiece";
import type { TriangleMesh } from "../../src/geometry/mesh";
import type { Vec3 } from "../../src/geometry/vector";
import { inRegion } from "../../src/head/regions";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, moved, turned } from "./shapes";
import { formOf, headOf, partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const form = formOf();
/** How far to the side the flat head reaches, mm. */
const side = 75;
/** A head that is flat where the ears are: its ears are the places of the flat sides in the ears' directions. */
const flatHead = headOf(evenBox());
/** The middle of the flat right ear. */
const middle: Vec3 = flatEarMiddle();

/** A box whose right and left sides are cut into squares of 4 mm. */
function evenBox(): TriangleMesh {
  const [steps, step] = [60, 4];
  const positions: number[] = [];
  const triangles: number[] = [];
  for (const x of [side, -side]) {
    const base = positions.length / 3;
    for (let j = 0; j <= steps; j++) {
      for (let i = 0; i <= steps; i++) positions.push(x, (i - steps / 2) * step, (j - steps / 2) * step);
    }
    for (let j = 0; j < steps; j++) {
      for (let i = 0; i < steps; i++) {
        const a = base + j * (steps + 1) + i;
        const [b, c, d] = [a + 1, a + steps + 1, a + steps + 2];
        if (x > 0) triangles.push(a, b, d, a, d, c);
        else triangles.push(a, d, b, a, c, d);
      }
    }
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}

function isFlatEar(y: number, z: number): boolean {
  return inRegion("rightEar", form.directionOf([side, y, z]));
}

function flatEarMiddle(): Vec3 {
  let [count, y, z] = [0, 0, 0];
  for (let i = -120; i <= 120; i++) {
    for (let j = -120; j <= 120; j++) {
      if (!isFlatEar(i, j)) continue;
      count++;
      y += i;
      z += j;
    }
  }
  return [side, y / count, z / count];
}

/** A disc upright beside the right side, mm off it. */
function discBeside(off: number, radius: number, thick = 2): TriangleMesh {
  const flat = turned(
    [
      [0, 0],
      [radius, 0],
      [radius, thick],
      [0, thick],
    ],
    180,
  );
  const positions = flat.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    // z becomes x, x becomes y, y becomes z: a turn, so the outside stays outside.
    positions[i] = side + off + flat.positions[i + 2];
    positions[i + 1] = middle[1] + flat.positions[i];
    positions[i + 2] = middle[2] + flat.positions[i + 1];
  }
  return { positions, triangles: flat.triangles };
}

describe("share of an ear that is covered", () => {
  it("the flat ear has the area of its region", () => {
    let count = 0;
    for (let i = -1200; i <= 1200; i++) {
      for (let j = -1200; j <= 1200; j++) if (isFlatEar(i / 10, j / 10)) count++;
    }
    const { left, right } = ears(pieceOf(box([0, 300, 0], [1, 301, 1])), flatHead, limits);
    // Whole triangles of 4 mm stand for a border that runs between them.
    expect(Math.abs(right.area / (count / 100) - 1)).toBeLessThan(0.02);
    expect(left.area).toBeCloseTo(right.area, 1);
  });

  // Area of a circle over the area of the ear.
  it("a disc beside it covers πr²", () => {
    for (const radius of [8, 14]) {
      const { left, right } = ears(pieceOf(discBeside(20, radius)), flatHead, limits);
      expect(Math.abs((right.covered * right.area) / (Math.PI * radius ** 2) - 1)).toBeLessThan(0.01);
      expect(right.coveredBy).toEqual([{ part: "part 1", share: right.covered }]);
      expect(left).toMatchObject({ covered: 0, coveredBy: [] });
    }
  });

  it("counts what stands within 60 mm, and what comes first", () => {
    expect(ears(pieceOf(discBeside(59, 14)), flatHead, limits).right.covered).toBeGreaterThan(0.1);
    expect(ears(pieceOf(discBeside(61, 14)), flatHead, limits).right.covered).toBe(0);
    const two = ears(pieceOf([discBeside(30, 14), discBeside(15, 8)]), flatHead, limits).right;
    expect(two.coveredBy.map(({ part }) => part)).toEqual(["part 1", "part 2"]);
    const area = Math.PI * (14 ** 2 - 8 ** 2);
    expect(Math.abs((two.coveredBy[0].share * two.area) / area - 1)).toBeLessThan(0.02);
  });

  it("on the head form: all, and nothing", () => {
    const head = headOf();
    const all = ears(pieceOf(box([110, -120, -120], [114, 60, 90])), head, limits);
    expect(all.right.covered).toBeCloseTo(1, 6);
    expect(all.left.covered).toBe(0);
    // The projection of a triangle: its area times the cosine of its slant.
    const { positions: p, triangles: t } = head.bare.mesh;
    let projected = 0;
    for (let i = 0; i < t.length; i += 3) {
      const [a, b, c] = [3 * t[i], 3 * t[i + 1], 3 * t[i + 2]];
      const middle = [0, 1, 2].map((axis) => (p[a + axis] + p[b + axis] + p[c + axis]) / 3);
      if (!inRegion("rightEar", head.directionOf(middle as unknown as Vec3))) continue;
      const [ay, az, by, bz] = [
        p[b + 1] - p[a + 1],
        p[b + 2] - p[a + 2],
        p[c + 1] - p[a + 1],
        p[c + 2] - p[a + 2],
      ];
      projected += Math.max(0, (ay * bz - az * by) / 2);
    }
    expect(Math.abs(all.right.area / projected - 1)).toBeLessThan(0.01);
    expect(all.right.area).toBeCloseTo(all.left.area, 1);
  });
});

describe("gap between an ear and the piece", () => {
  // A ball over a plane is as far off as its middle is, less its radius.
  it("of a ball beside a flat ear", () => {
    for (const gap of [-6, -1.5, 0.4, 2.5, 8]) {
      const ball = moved(ellipsoid(10, 10, 10, 60, 90), [side + 10 + gap, middle[1], middle[2]]);
      const { right, left } = ears(pieceOf(ball), flatHead, limits);
      expect(Math.abs(right.gap! - gap)).toBeLessThan(0.05);
      expect(right.nearestPart).toBe("part 1");
      expect(Math.hypot(right.at![1] - middle[1], right.at![2] - middle[2])).toBeLessThan(2);
      expect(left.gap).toBeUndefined();
    }
    const far = moved(ellipsoid(10, 10, 10, 60, 90), [side + 22, middle[1], middle[2]]);
    expect(ears(pieceOf(far), flatHead, limits).right.gap).toBeUndefined();
  });

  it("of what lies beside the ear, not on it: none", () => {
    const above = moved(ellipsoid(10, 10, 10, 40, 60), [side + 10.3, middle[1], middle[2] + 70]);
    expect(ears(pieceOf(above), flatHead, limits).right.gap).toBeUndefined();
    // Close over the ear's upper border it is as far as the border, though nearly on the head.
    let top = middle[2];
    while (isFlatEar(middle[1], top)) top += 0.1;
    const close = moved(ellipsoid(3, 3, 3, 40, 60), [side + 3.3, middle[1], top + 11]);
    expect(ears(pieceOf(close), flatHead, limits).right.gap).toBeGreaterThan(5);
  });
});

const told = ({ findings }: Ears): string[] => findings.map(({ id, severity }) => `${severity} ${id}`);

describe("findings, each with a twin that has none", () => {
  const named = (mesh: TriangleMesh) => pieceOf(mesh, { parts: [partOf("ram horn", 23, mesh)] });

  it("an ear that is covered", () => {
    const cover = (least: number) => named(box([side + 8, -150, least], [side + 10, 90, 90]));
    const found = ears(cover(-100), flatHead, limits);
    expect(told(found)).toEqual(["note ear-covered"]);
    expect(found.findings[0]).toMatchObject({
      check: "sight",
      part: "ram horn",
      line: 23,
      unit: "%",
      limit: { name: "earCovered", value: 50 },
    });
    expect(found.findings[0].text).toBe(
      '"ram horn" covers 100 % of the right ear, more than 50 %: hearing is dulled',
    );
    expect(told(ears(cover(middle[2] + 12), flatHead, limits))).toEqual([]);
  });

  it("an ear that is pressed", () => {
    const ball = (gap: number) =>
      named(moved(ellipsoid(6, 6, 6, 40, 60), [-side - 6 - gap, middle[1], middle[2]]));
    const near = ears(ball(0.4), flatHead, limits);
    expect(told(near)).toEqual(["warning ear-pressed"]);
    expect(near.findings[0]).toMatchObject({ part: "ram horn", line: 23, limit: { name: "earPressed" } });
    expect(near.findings[0].text).toBe('"ram horn" comes within 0.4 mm of the left ear, nearer than 1 mm');
    expect(near.findings[0].suggestion).toContain("1 mm off the ear");
    const entering = ears(ball(-3), flatHead, limits);
    expect(entering.findings[0].text).toBe('"ram horn" enters the left ear by 3 mm');
    expect(entering.findings[0].suggestion).toContain("move it 4 mm off");
    expect(told(ears(ball(1.3), flatHead, limits))).toEqual([]);
    // A limit of the wearer's own turns the twin.
    expect(told(ears(ball(1.3), flatHead, limitsOf({ wearer: { earPressed: 2 } })))).toEqual([
      "warning ear-pressed",
    ]);
  });

  it("on the head form: a plate that lies against the ear, and one that clears it", () => {
    const head = headOf();
    const reach = ears(pieceOf(box([0, 300, 0], [1, 301, 1])), head, limits);
    expect(reach.findings).toEqual([]);
    // The ear's farthest place: found by moving a plate in until it is told.
    const at = (x: number) => told(ears(named(box([x, -70, -40], [x + 3, 20, 30])), head, limits));
    let x = 130;
    while (x > 60 && !at(x).includes("warning ear-pressed")) x -= 0.5;
    const { positions } = head.bare.mesh;
    let farthest = 0;
    for (let i = 0; i < positions.length; i += 3) {
      const point: Vec3 = [positions[i], positions[i + 1], positions[i + 2]];
      if (inRegion("rightEar", head.directionOf(point))) farthest = Math.max(farthest, positions[i]);
    }
    expect(Math.abs(x - (farthest + 1))).toBeLessThan(0.8);
  });
});

describe("odd input", () => {
  it("gives plain data, whatever the piece and the head", () => {
    const nothing = new WornPiece({
      ...pieceOf(box([0, 0, 0], [1, 1, 1])),
      mesh: { positions: new Float32Array(), triangles: new Uint32Array(), partOfTriangle: new Int32Array() },
      parts: [],
    });
    const open = headOf({
      positions: Float32Array.from([80, -20, 0, 80, -20, 20, 80, -35, 10]),
      triangles: Uint32Array.from([0, 1, 2, 0, 0, 1]),
    });
    const none = headOf({ positions: new Float32Array(), triangles: new Uint32Array() });
    for (const head of [headOf(), flatHead, open, none]) {
      for (const piece of [nothing, pieceOf(discBeside(2, 30), { parts: [] }), pieceOf(discBeside(-4, 30))]) {
        const found = ears(piece, head, limits);
        expect(structuredClone(found)).toEqual(found);
        expect(JSON.parse(JSON.stringify(found))).toEqual(found);
        for (const ear of [found.left, found.right]) {
          expect(ear.covered).toBeGreaterThanOrEqual(0);
          expect(ear.covered).toBeLessThanOrEqual(1 + 1e-9);
        }
      }
    }
  });
});
