import { describe, expect, it } from "vitest";
import { lens, lensDistance, type NecksFound, necksOf } from "../../../src/checks/beams/necks";
import { skeletonOf } from "../../../src/checks/beams/skeleton";
import type { Part } from "../../../src/design/part";
import { Random } from "../../../src/design/random";
import type { Vec3 } from "../../../src/geometry/vector";
import { box, ellipsoid, moved } from "../shapes";
import { pieceOf, ring, solidAt, tubeThrough, wornHead } from "./strengthPieces";

const necks = async (parts: readonly Part[], least = 3, tolerance = 0.12): Promise<NecksFound> => {
  const piece = await pieceOf(parts, { tolerance });
  return necksOf(skeletonOf(piece, wornHead.grown), piece, least);
};
const rod = (name: string, from: Vec3, to: Vec3, radius: number) =>
  tubeThrough(name, [from, [0, 1, 2].map((axis) => (from[axis] + to[axis]) / 2) as unknown as Vec3, to], {
    radii: radius,
  });

describe("the lens of two circles", () => {
  it("knows equal circles, touching ones, and one within the other", () => {
    // Chord of two equal circles: 2·√(r² − (d/2)²); the 3-4-5 triangle: r₁ = 3, r₂ = 4, d = 5 gives h = 12/5.
    expect(lens(5, 5, 6)).toBeCloseTo(4, 12);
    expect(lens(3, 4, 5)).toBeCloseTo(2.4, 12);
    expect(lens(3, 4, 7)).toBe(0);
    expect(lens(3, 4, 9)).toBe(0);
    expect(lens(2, 6, 3)).toBe(2);
    expect(lens(2, 6, 0)).toBe(2);
  });

  it("is half the greatest width of what two discs share, counted over a fine grid", () => {
    const seed = 11;
    const random = new Random(seed);
    for (let round = 0; round < 60; round++) {
      const [r1, r2] = [random.between(1, 6), random.between(1, 6)];
      const d = random.between(0, 1.05 * (r1 + r2));
      let most = 0;
      for (let x = -r1; x <= r1; x += r1 / 4000) {
        const half = Math.min(r1 * r1 - x * x, r2 * r2 - (x - d) ** 2);
        if (half > most) most = half;
      }
      const label = `seed ${seed}, r ${r1} and ${r2}, ${d} apart`;
      expect(Math.abs(lens(r1, r2, d) - Math.sqrt(most)), label).toBeLessThan(0.01 * Math.min(r1, r2) + 0.02);
    }
  });

  it("turns about: at the distance for a width the lens has that width", () => {
    expect(lens(4, 6, lensDistance(4, 6, 1.5))).toBeCloseTo(1.5, 12);
    expect(lens(2, 2, lensDistance(2, 2, 1.9))).toBeCloseTo(1.9, 12);
  });
});

describe("necks of united solids", () => {
  it("finds the lens of two tubes that cross, and of two that graze along each other", async () => {
    for (const apart of [9.5, 8, 6]) {
      const exact = 2 * Math.sqrt(25 - (apart / 2) ** 2);
      const across = [rod("a", [-40, 0, 0], [40, 0, 0], 5), rod("b", [0, -30, apart], [0, 30, apart], 5)];
      const { thinnest, count } = await necks(across);
      expect(count).toBe(1);
      expect((thinnest?.width ?? 0) / exact).toBeCloseTo(1, 2);
      // Square to each other, they join over the chord's square.
      expect((thinnest?.area ?? 0) / exact ** 2).toBeCloseTo(1, 2);
    }
    const along = [rod("a", [-40, 0, 0], [40, 0, 0], 5), rod("b", [-20, 0, 9.9], [20, 0, 9.9], 5)];
    const grazing = await necks(along);
    expect((grazing.thinnest?.width ?? 0) / (2 * Math.sqrt(25 - 4.95 ** 2))).toBeCloseTo(1, 2);
    // Thin, yet long: 1.4 mm over 40 mm hold, so that it is not told.
    expect(grazing.thin).toEqual([]);
  });

  it("warns of a tube that hangs by a thin lens, and no longer once it is sunk as deep as asked", async () => {
    const hook = (apart: number): Part[] => [
      rod("shaft", [-60, 0, 0], [60, 0, 0], 5),
      rod("hook", [0, -20, apart], [0, 20, apart], 4),
    ];
    const { thin } = await necks(hook(8.9));
    expect(thin.length).toBe(1);
    expect(thin[0].part).toBe(1);
    const exact = 2 * lens(5, 4, 8.9);
    expect(thin[0].neck.width / exact).toBeCloseTo(1, 2);
    expect(exact).toBeLessThan(3);
    const deeper = lensDistance(5, 4, 1.5);
    expect((await necks(hook(deeper - 0.02))).thin).toEqual([]);
    expect((await necks(hook(deeper + 0.1))).thin.length).toBe(1);
  });

  it("measures an end that stands in a body by its own section", async () => {
    for (const radius of [1, 2, 4]) {
      const { thinnest, thin } = await necks(
        [ring(), rod("twig", [60, 0, 0], [110, 0, 10], radius)],
        3,
        0.02,
      );
      expect((thinnest?.width ?? 0) / (2 * radius)).toBeGreaterThan(0.97);
      expect((thinnest?.width ?? 0) / (2 * radius)).toBeLessThan(1.06);
      expect(thin.length).toBe(radius === 1 ? 1 : 0);
    }
  });

  it("measures where bodies that are no tubes meet: a ball on a slab by its circle", async () => {
    const slab = solidAt("slab", box([-40, -40, -10], [40, 40, 0]));
    const ball = (height: number) => solidAt("pearl", moved(ellipsoid(6, 6, 6, 60, 96), [0, 0, height]));
    for (const height of [5.9, 4.5, 2]) {
      const { thinnest, thin } = await necks([slab, ball(height)]);
      const exact = 2 * Math.sqrt(36 - height * height);
      expect((thinnest?.width ?? 0) / exact).toBeGreaterThan(0.97);
      expect((thinnest?.width ?? 0) / exact).toBeLessThan(1.01);
      expect(thin.map(({ part }) => part)).toEqual(exact < 3 ? [1] : []);
    }
  });

  it("does not tell of a thin neck where a part holds by another one too", async () => {
    const parts = [
      rod("shaft", [-60, 0, 0], [60, 0, 0], 5),
      rod("second", [-60, 30, 0], [60, 30, 0], 5),
      rod("rung", [0, -8, 8.9], [0, 40, 4], 4),
      rod("tie", [-55, 0, 0], [-55, 30, 0], 4),
    ];
    expect((await necks(parts)).thin).toEqual([]);
  });

  it("tells of two parts that hang together by one neck", async () => {
    const parts = [
      rod("shaft", [-60, 0, 0], [60, 0, 0], 5),
      rod("hook", [0, -20, 8.9], [0, 20, 8.9], 4),
      rod("bob", [0, 15, 8.9], [0, 15, 40], 4),
    ];
    const { thin } = await necks(parts);
    expect(thin.map(({ part }) => part)).toEqual([1]);
  });
});
