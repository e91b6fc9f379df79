import { describe, expect, it } from "vitest";
import { ArmStrength } from "../../../src/checks/beams/armStrength";
import { skeletonOf } from "../../../src/checks/beams/skeleton";
import { armStrength, strength } from "../../../src/checks/strength";
import { WornPiece } from "../../../src/checks/wornPiece";
import type { Part } from "../../../src/design/part";
import { Random } from "../../../src/design/random";
import { normalize, type Vec3 } from "../../../src/geometry/vector";
import type { FillSettings } from "../../../src/printSettings";
import { limitsOf } from "../../../src/wearLimits";
import { randomTubes } from "../../bench/model";
import { box } from "../shapes";
import { pieceOf, ring, solidAt, solidPrint, tubeThrough, wornHead } from "./strengthPieces";

const limits = limitsOf();
const loads = { handling: 10, snag: 30, layerStrength: 0.5 };
const otherwise: FillSettings = { shells: 2, lineWidth: 0.6, infill: 12 };

/** A block and a level rod of radius 4 mm that stands 100 mm out of it. */
const levelRod = (): Part[] => [
  solidAt("block", box([-40, -40, -40], [0, 40, 40])),
  tubeThrough("rod", [[-10, 0, 0] as Vec3, [45, 0, 0] as Vec3, [100, 0, 0] as Vec3], { radii: 4 }),
];

describe("strength of arms by which way up they are printed", () => {
  // Hankinson 1921: N = P·Q / (P·sin²φ + Q·cos²φ); bending: σ = F·L·r/I, I = π·r⁴/4 (any handbook of strength).
  it("follows Hankinson's formula for a level arm, from along the layers to across them", async () => {
    const piece = await pieceOf(levelRod());
    const model = new ArmStrength(skeletonOf(piece, wornHead.grown), piece, loads);
    const stress = (10 * 100 * 4) / ((Math.PI * 4 ** 4) / 4);
    for (const degrees of [0, 20, 45, 70, 90]) {
      const angle = (degrees * Math.PI) / 180;
      const up: Vec3 = [Math.sin(angle), 0, Math.cos(angle)];
      const across = 37 * loads.layerStrength;
      const bears = (37 * across) / (37 * Math.sin(angle) ** 2 + across * Math.cos(angle) ** 2);
      const weakest = model.weakest({ up, fill: solidPrint });
      expect(weakest?.part).toBe("rod");
      expect((weakest?.factor ?? 0) / (bears / stress)).toBeCloseTo(1, 2);
      const [{ arm }] = model.arms({ up, fill: solidPrint });
      expect(arm.layerAngle).toBeCloseTo(degrees, 3);
    }
    const factorFor = (up: Vec3) => model.weakest({ up, fill: solidPrint })?.factor ?? 0;
    expect(factorFor([0, 0, 1]) / factorFor([1, 0, 0])).toBeCloseTo(2, 6);
    // About the arm itself the layers are the same.
    expect(factorFor([0, 0.6, 0.8])).toBeCloseTo(factorFor([0, 0, 1]), 9);
  });

  it("is that of strength(), to the last digit, for any direction and any filling", async () => {
    const seed = 41;
    const random = new Random(seed);
    const parts = [
      ring(60, 6),
      ...randomTubes(8, seed).map((shape, i): Part => ({ kind: "tube", name: `tube ${i + 1}`, shape })),
      ...levelRod(),
    ];
    const piece = await pieceOf(parts, { print: { shells: 3, lineWidth: 0.45, infill: 15 } });
    const model = armStrength(piece, wornHead, limits);
    const asDesigned = strength(piece, wornHead, limits).weakest;
    expect(asDesigned, `seed ${seed}`).toBeDefined();
    expect(model.weakest({ up: [0, 0, 1], fill: piece.print })).toEqual({
      part: asDesigned?.part,
      index: asDesigned?.index,
      factor: asDesigned?.factor,
      at: asDesigned?.at,
    });
    for (let round = 0; round < 8; round++) {
      const up = normalize([random.between(-1, 1), random.between(-1, 1), random.between(-1, 1)]);
      const fill = round % 2 ? otherwise : piece.print;
      const told = `seed ${seed}, round ${round}`;
      const filled = new WornPiece({ ...factsOf(piece), print: fill });
      const { weakest, basis } = strength(filled, wornHead, limits, up);
      expect(model.weakest({ up, fill })?.factor, told).toBe(weakest?.factor);
      expect(model.weakest({ up, fill })?.part, told).toBe(weakest?.part);
      expect(basis, told).toMatch(/printed (tilted by \d+° from upright|upside down|upright)/);
    }
  });

  it("tells in its basis how the piece stands", async () => {
    const piece = await pieceOf(levelRod());
    const model = armStrength(piece, wornHead, limits);
    const basis = (up: Vec3) => strength(piece, wornHead, limits, up, model).basis;
    expect(basis([0, 0, 1])).toContain("printed upright, as designed,");
    expect(basis([0, 0, -1])).toContain("printed upside down,");
    expect(basis([0, 1, 0])).toContain("tilted by 90° from upright, its front up,");
    expect(basis([-1, 0, 0])).toContain("its left side up,");
  });

  it("has no weakest arm where there is none, and refuses a direction that is none", async () => {
    const piece = await pieceOf([ring(60, 6)]);
    const model = armStrength(piece, wornHead, limits);
    expect(model.weakest({ up: [0, 0, 1], fill: solidPrint })).toBeUndefined();
    expect(() => model.weakest({ up: [0, Number.NaN, 1], fill: solidPrint })).toThrow(RangeError);
  });
});

const factsOf = ({ mesh, parts, material, print, mass, centre }: WornPiece) => ({
  mesh,
  parts,
  material,
  print,
  mass,
  centre,
});
