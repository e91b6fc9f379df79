import { describe, expect, it } from "vitest";
import { heat } from "../../src/checks/heat";
import { massProperties } from "../../src/checks/massProperties";
import { weight, weightMoment } from "../../src/checks/weight";
import type { Vec3 } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, meshOf, moved, turned } from "./shapes";
import { formOf, headOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const miss = (value: number, truth: number): number => Math.abs(value / truth - 1);

describe("weight moment", () => {
  // 0.5 kg × 9.80665 m/s² × 10 cm = 49.03 N·cm (standard gravity, CGPM 1901).
  it("of 0.5 kg at 10 cm is 49.03 N·cm, on a mesh too", () => {
    expect(weightMoment(500, [0, 100, 0], [0, 0, 0])).toBeCloseTo(49.03, 2);
    const { centre } = massProperties(box([-20, 80, -5], [20, 120, 35]));
    expect(miss(weightMoment(500, centre, [0, 0, 0]), 49.033)).toBeLessThan(0.01);
  });

  // A lever of length l at angle a above the level, nodded by 30°: m·g·l·cos(a − 30°) (statics, the law of the lever).
  it("turns with the nod as the law of the lever says", () => {
    for (const [angle, length] of [
      [0, 80],
      [55, 120],
      [90, 200],
      [150, 60],
    ]) {
      const a = (angle * Math.PI) / 180;
      const wanted = (0.3 * 9.80665 * length * Math.abs(Math.cos(a - Math.PI / 6))) / 10;
      const at: Vec3 = [0, length * Math.cos(a), length * Math.sin(a)];
      expect(weightMoment(300, at, [0, 0, 0], 30)).toBeCloseTo(wanted, 9);
    }
    expect(weightMoment(100, [30, 40, 9], [0, 0, 0])).toBeCloseTo((0.1 * 9.80665 * 50) / 10, 9);
  });
});

// Centres of mass in closed form: hemisphere 3R/8, cone h/4 (Archimedes, The Method), torus arc R·sin α/α (Pappus).
describe("centre of mass on meshes", () => {
  it("of a hemisphere lies 3/8 of its radius up", () => {
    const half = turned(
      [
        [0, 0],
        ...Array.from({ length: 91 }, (_, k): [number, number] => {
          const angle = (Math.PI / 2) * (k / 90);
          return [k === 90 ? 0 : 80 * Math.cos(angle), 80 * Math.sin(angle)];
        }),
      ],
      180,
    );
    expect(miss(massProperties(half).centre[2], 30)).toBeLessThan(0.01);
  });

  it("of a cone lies a quarter of its height up", () => {
    expect(
      miss(
        massProperties(
          turned(
            [
              [0, 0],
              [40, 0],
              [0, 120],
            ],
            180,
          ),
        ).centre[2],
        30,
      ),
    ).toBeLessThan(0.01);
  });

  it("of an arc of a thin torus lies R·sin α/α from the middle", () => {
    const [R, r, half] = [100, 3, (70 * Math.PI) / 180];
    const [around, sides] = [120, 24];
    const points: Vec3[] = [];
    const triangles: number[][] = [];
    for (let i = 0; i <= around; i++) {
      const turn = -half + (2 * half * i) / around;
      for (let j = 0; j < sides; j++) {
        const v = (2 * Math.PI * j) / sides;
        const reach = R + r * Math.cos(v);
        points.push([reach * Math.cos(turn), reach * Math.sin(turn), r * Math.sin(v)]);
        const p = (k: number, l: number): number => k * sides + (l % sides);
        if (i < around)
          triangles.push([p(i, j), p(i + 1, j), p(i + 1, j + 1)], [p(i, j), p(i + 1, j + 1), p(i, j + 1)]);
      }
    }
    for (let j = 1; j + 1 < sides; j++) {
      triangles.push([0, j, j + 1]);
      const end = around * sides;
      triangles.push([end, end + j + 1, end + j]);
    }
    expect(
      miss(massProperties(meshOf(points, triangles)).centre[0], (R * Math.sin(half)) / half),
    ).toBeLessThan(0.01);
  });
});

describe("is it too heavy?", () => {
  const head = headOf();
  const at = (mass: number, centre: Vec3) =>
    weight(pieceOf(moved(ellipsoid(10, 10, 10, 12, 24), centre), { mass }), head, limits);

  it("stands the piece beside the head's own centre, within Beier's range, and joins the two", () => {
    const found = at(300, [0, 0, 150]);
    // Beier et al. 1979: 2.2 to 4.3 cm above the Frankfurt plane, within 0.3 cm of the midline.
    expect(found.headCentre[2]).toBeGreaterThan(22);
    expect(found.headCentre[2]).toBeLessThan(43);
    expect(found.headCentre[0]).toBe(0);
    expect(found.together[2]).toBeGreaterThan(found.headCentre[2]);
    expect(found.together[2]).toBeLessThan(found.headCentre[2] + 10);
    expect(found.findings).toEqual([]);
    expect(found.caveats[0]).toContain("trained adults");
  });

  it("tells a heavy piece and one that nobody should wear, and lets the twin pass", () => {
    const ids = (mass: number) =>
      at(mass, [0, -11, 120]).findings.map(({ id, severity }) => `${id} ${severity}`);
    expect(ids(499)).toEqual([]);
    expect(ids(501)).toEqual(["heavy warning"]);
    expect(ids(2600)[0]).toBe("heavy error");
  });

  it("tells a piece that pulls on the neck, by how far out it hangs", () => {
    const ids = (forward: number) =>
      at(400, [0, forward, 0]).findings.map(({ id, severity }) => `${id} ${severity}`);
    // 82.8 N·cm at 400 g is 211 mm (McEntire & Shanahan 1998, from memory), 134 N·cm 342 mm (Madison et al. 2023).
    expect(ids(150)).toEqual([]);
    expect(ids(240)).toEqual(["neck-moment warning"]);
    expect(ids(360)).toEqual(["neck-moment error"]);
    const [finding] = at(400, [0, 240, 0]).findings;
    expect(finding.limit?.source).toContain("McEntire");
    expect(finding.text).toContain("forward of");
  });

  it("says of a child that there is no threshold", () => {
    const child = headOf(undefined, {}, formOf({ girth: 505 }));
    expect(child.isChild).toBe(true);
    const { caveats } = weight(pieceOf(box([0, 0, 0], [1, 1, 1])), child, limits);
    expect(caveats.join(" ")).toContain("children");
  });
});

describe("does it bear heat?", () => {
  // Softening: filament makers' tables (second hand); parked cars: Grundstein, Meentemeyer, Dowd 2009.
  it("warns of a parked car for PLA, and not for PETG; a hotter car is a matter of the workshop's limits", () => {
    const pla = { name: "PLA", softening: [55, 65] } as const;
    const petg = { name: "PETG", softening: [80, 85] } as const;
    expect(heat(pla, limits).findings).toMatchObject([{ id: "softens-in-car", severity: "note", value: 55 }]);
    expect(heat(petg, limits).findings).toEqual([]);
    const [finding] = heat(petg, limitsOf({ workspace: { carHeat: 88 } })).findings;
    expect(finding.limit).toEqual({ name: "carHeat", value: 88, source: "set by the workspace" });
  });
});
