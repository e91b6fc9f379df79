import { describe, expect, it } from "vitest";
import { freeArms } from "../../../src/checks/beams/freeArms";
import { skeletonOf } from "../../../src/checks/beams/skeleton";
import type { FreeArm } from "../../../src/checks/beams/worstSection";
import type { WornPiece } from "../../../src/checks/wornPiece";
import type { Part } from "../../../src/design/part";
import type { Vec2, Vec3 } from "../../../src/geometry/vector";
import { box, ellipsoid, moved, turned } from "../shapes";
import {
  aloft,
  form,
  type PieceOptions,
  pieceOf,
  ring,
  solidAt,
  tubeThrough,
  wornHead,
} from "./strengthPieces";

const loads = { handling: 10, snag: 30, layerStrength: 0.5 };
const armsOfPiece = (piece: WornPiece): FreeArm[] =>
  freeArms(skeletonOf(piece, wornHead.grown), piece, loads).map(({ arm }) => arm);
const armsOf = async (parts: readonly Part[], options?: PieceOptions): Promise<FreeArm[]> =>
  armsOfPiece(await pieceOf(parts, options));
const named = (arms: readonly FreeArm[], name: string): FreeArm => {
  const found = arms.find(({ part }) => part === name);
  if (!found) throw new Error(`no arm "${name}" among ${arms.map(({ part }) => part).join(", ")}`);
  return found;
};
const roundI = (r: number) => (Math.PI * r ** 4) / 4;
const within = (found: number, exact: number, share = 0.01): void => {
  expect(found / exact).toBeGreaterThan(1 - share);
  expect(found / exact).toBeLessThan(1 + share);
};

/** A heavy block with its top at z = 0. */
const block = () => solidAt("block", box([-40, -40, -20], [40, 40, 0]));

describe("closed forms of cantilevers, on united solids", () => {
  // Bending of beams: σ = M·c/I, M = F·L (Euler-Bernoulli; any handbook, e.g. Timoshenko, Strength of Materials).
  it("uniform, upright on a block: σ = F·L·r/I at the root, half the strength across the layers", async () => {
    const rod = tubeThrough(
      "rod",
      [
        [0, 0, -10],
        [0, 0, 45],
        [0, 0, 100],
      ] as Vec3[],
      { radii: 4 },
    );
    const [arm, ...others] = await armsOf([block(), rod]);
    expect(others).toEqual([]);
    const stress = (10 * 100 * 4) / roundI(4);
    within(arm.stress, stress);
    within(arm.moment, 1000);
    within(arm.length, 100);
    expect(arm.fromRoot).toBeLessThan(0.5);
    expect(arm.rootAt[2] - aloft[2]).toBeCloseTo(0, 1);
    expect(arm.layerAngle).toBeCloseTo(90, 3);
    within(arm.factorAlong, 37 / stress);
    within(arm.factorAcross, 18.5 / stress);
    within(arm.factor, 18.5 / stress);
    within(arm.snagFactor, 18.5 / stress / 3);
  });

  it("uniform, level on a ring of its own thickness: measured from the ring's surface", async () => {
    const rod = tubeThrough(
      "rod",
      [
        [60, 0, 0],
        [110, 0, 0],
        [160, 0, 0],
      ] as Vec3[],
      { radii: 5 },
    );
    const [arm] = await armsOf([ring(60, 5), rod]);
    within(arm.stress, (10 * 95 * 5) / roundI(5));
    within(arm.rootAt[0], 65, 0.002);
    expect(arm.layerAngle).toBeCloseTo(0, 3);
    within(arm.factor, 37 / arm.stress, 1e-9);
  });

  it("tapered: greatest where the radius is 3/2 of the tip's", async () => {
    // σ(x) = F·x·r/(π·r⁴/4) with r = r₀ + k·x from the tip: d/dx of x/r³ is zero at r = 3·k·x, so r = 3·r₀/2.
    const [length, r0, r1] = [120, 2, 10];
    const k = (r1 - r0) / length;
    const cone = tubeThrough(
      "cone",
      [
        [0, 0, 0],
        [0, 0, 60],
        [0, 0, 120],
      ] as Vec3[],
      { radii: [r1, r0] },
    );
    const [arm] = await armsOf([block(), cone]);
    const x = r0 / (2 * k);
    within(arm.radius, 1.5 * r0, 0.02);
    within(arm.stress, (4 * 10 * x) / (Math.PI * (1.5 * r0) ** 3));
    within(arm.fromRoot, length - x, 0.02);
  });

  it("hollow: I of a ring", async () => {
    const pipe = tubeThrough(
      "pipe",
      [
        [0, 0, -5],
        [0, 0, 50],
        [0, 0, 100],
      ] as Vec3[],
      {
        radii: 8,
        shape: { hollow: { wall: 2, drain: 0, drainAt: 0.5 } },
      },
    );
    const [arm] = await armsOf([block(), pipe]);
    within(arm.stress, (10 * 100 * 8) / ((Math.PI / 4) * (8 ** 4 - 6 ** 4)));
  });

  it("shelled: I of the shells and of the core at its share", async () => {
    const rod = tubeThrough(
      "rod",
      [
        [0, 0, -5],
        [0, 0, 50],
        [0, 0, 100],
      ] as Vec3[],
      { radii: 6 },
    );
    const [arm] = await armsOf([block(), rod], { print: { shells: 2, lineWidth: 0.5, infill: 20 } });
    within(arm.stress, (10 * 100 * 6) / ((Math.PI / 4) * (6 ** 4 - 0.8 * 5 ** 4)));
  });

  it("flat: σ = 6·F·L/(b·h²) about its weak axis, and by √(1 + (h/b)²) more at a corner, twisted or not", async () => {
    const strap: Vec2[] = [
      [-2, -0.5],
      [2, -0.5],
      [2, 0.5],
      [-2, 0.5],
    ];
    for (const twist of [0, 70]) {
      const blade = tubeThrough(
        "blade",
        [
          [0, 0, -5],
          [0, 0, 50],
          [0, 0, 90],
        ] as Vec3[],
        {
          radii: 5,
          shape: { section: { kind: "outline", points: strap }, twist },
        },
      );
      const [arm] = await armsOf([block(), blade]);
      // The load that leans so that a corner of b × h takes most: unsymmetric bending, M₁·c₁/I₁ + M₂·c₂/I₂.
      within(arm.stress, ((6 * 10 * 90) / (20 * 5 ** 2)) * Math.hypot(1, 5 / 20));
      within(arm.radius, 2.5);
    }
  });

  it("curved and tapered: the greatest of F·|tip − section|·r/I over a fine walk along the same arc", async () => {
    // A quarter circle of 70 mm, r from 6 to 2.5: its path is drawn through many points, so it is the arc itself.
    const R = 70;
    const points = Array.from({ length: 31 }, (_, i): Vec3 => {
      const turn = (i / 30) * (Math.PI / 2);
      return [R * (1 - Math.cos(turn)), 0, R * Math.sin(turn)];
    });
    const horn = tubeThrough("horn", points, { radii: [6, 2.5] });
    const [arm] = await armsOf([block(), horn]);
    let least = Infinity;
    let [stress, at] = [0, 0];
    const steps = 200_000;
    for (let i = 0; i < steps; i++) {
      const share = i / steps;
      const turn = (share * Math.PI) / 2;
      const lever = Math.hypot(R - R * (1 - Math.cos(turn)), R - R * Math.sin(turn));
      const r = 6 - 3.5 * share;
      if (lever < r) break;
      const own = (10 * lever * r) / roundI(r);
      // Layers lie level: the arc's direction has sin φ = cos turn.
      const strength = (37 * 18.5) / (37 * Math.cos(turn) ** 2 + 18.5 * Math.sin(turn) ** 2);
      if (strength / own < least) {
        least = strength / own;
        [stress, at] = [own, (share * R * Math.PI) / 2];
      }
    }
    within(arm.stress, stress);
    within(arm.factor, least);
    expect(Math.abs(arm.fromRoot - at)).toBeLessThan(4);
  });

  it("a body that is no tube: a cone, cut across", async () => {
    const profile: [number, number][] = [
      [0, -4],
      [10, -4],
      [2, 116],
      [0, 116],
    ];
    const spike = solidAt("spike", turned(profile, 96));
    const [arm] = await armsOf([block(), spike]);
    // The same cone as a tube's: k = 8/120, greatest at r = 3.
    const x = 2 / (2 * (8 / 120));
    within(arm.stress, (4 * 10 * x) / (Math.PI * 27), 0.02);
    expect(arm.part).toBe("spike");
  });
});

describe("what is an arm", () => {
  const stem = (name: string, azimuth: number, length = 70): Part => {
    const [c, s] = [Math.cos((azimuth * Math.PI) / 180), Math.sin((azimuth * Math.PI) / 180)];
    return tubeThrough(name, [
      [60 * c, 60 * s, 0],
      [66 * c, 66 * s, length / 2],
      [68 * c, 68 * s, length],
    ]);
  };

  it("is none in rings and arches that are held at both ends", async () => {
    const arch = tubeThrough("arch", [
      [60, 0, 0],
      [0, 10, 70],
      [-60, 0, 0],
    ]);
    expect(await armsOf([ring()])).toEqual([]);
    expect(await armsOf([ring(), arch])).toEqual([]);
    expect(
      await armsOf([ring(60, 6), ring(60, 4, "inner")].map((part, i) => (i ? { ...part, name: "b" } : part))),
    ).toEqual([]);
  });

  it("is a tube that stands by one end, whichever end of its path that is", async () => {
    const forth = stem("stem", 30);
    if (forth.kind !== "tube") throw new Error("not a tube");
    const { path } = forth.shape;
    const back = {
      ...forth,
      shape: { ...forth.shape, path: { ...path, points: [...path.points].reverse() } },
    };
    const [one, ...more] = await armsOf([ring(), forth]);
    const [other] = await armsOf([ring(), back]);
    expect(more).toEqual([]);
    within(other.stress, one.stress, 0.002);
    within(other.length, one.length, 0.01);
    within(one.tip[2], aloft[2] + 70, 1e-3);
  });

  it("counts twigs on stems as arms, and bends the stem by the farthest twig", async () => {
    const twig = tubeThrough(
      "twig",
      [
        [67, 0, 45],
        [90, 0, 60],
        [120, 0, 70],
      ],
      { radii: 2.5 },
    );
    const arms = await armsOf([ring(), stem("stem", 0), twig]);
    expect(arms.map(({ part }) => part).sort()).toEqual(["stem", "twig"]);
    const bare = named(await armsOf([ring(), stem("stem", 0)]), "stem");
    const bent = named(arms, "stem");
    // From where it leaves the ring to the tip of the twig, at [120, 0, 70].
    const lever = Math.hypot(120 - (bent.at[0] - aloft[0]), 70 - (bent.at[2] - aloft[2]));
    within(bent.moment, 10 * lever, 0.01);
    expect(bent.moment).toBeGreaterThan(1.15 * bare.moment);
    within(named(arms, "twig").tip[0], 120, 1e-3);
  });

  it("no longer counts an arm that another part braces", async () => {
    const brace = tubeThrough("brace", [
      [60 * Math.cos(0.6), 60 * Math.sin(0.6), 0],
      [66, 20, 40],
      [68, 0, 66],
    ]);
    expect((await armsOf([ring(), stem("stem", 0)])).length).toBe(1);
    const arms = await armsOf([ring(), stem("stem", 0), brace]);
    expect(arms.filter(({ moment }) => moment > 100)).toEqual([]);
  });

  it("reaches to the far side of a pearl at the tip, and finds mirrored antlers alike", async () => {
    const pearl = solidAt("pearl", moved(ellipsoid(8, 8, 8, 24, 32), [68, 0, 74]));
    const [bare] = await armsOf([ring(), stem("stem", 0)]);
    const withPearl = named(await armsOf([ring(), stem("stem", 0), pearl]), "stem");
    within(withPearl.moment / 10, bare.moment / 10 + 12, 0.03);
    const antler = (name: string, side: number): Part[] => {
      const p = (x: number, y: number, z: number): Vec3 => [side * x, y, z];
      return [
        tubeThrough(name, [p(55, 24, 0), p(85, 10, 60), p(90, 0, 130)], { radii: [8, 4] }),
        tubeThrough(`${name} tine`, [p(83, 11, 55), p(90, 40, 70), p(95, 70, 90)], { radii: [5, 3] }),
      ];
    };
    const arms = await armsOf([ring(60, 7), ...antler("right", 1), ...antler("left", -1)]);
    expect(arms.length).toBe(4);
    within(named(arms, "left").stress, named(arms, "right").stress, 0.02);
    within(named(arms, "left tine").stress, named(arms, "right tine").stress, 0.02);
  });

  it("loads an arm that bends back at its farthest place", async () => {
    const points = Array.from({ length: 25 }, (_, i): Vec3 => {
      const turn = (i / 24) * 1.75 * Math.PI;
      return [60 + 30 * (1 - Math.cos(turn)), 0, 30 * Math.sin(turn)];
    });
    const [arm] = await armsOf([ring(), tubeThrough("curl", points, { radii: 3 })]);
    // Across the circle from where it leaves the ring: nearly the diameter, though the tip is back beside the root.
    expect(arm.moment / 10).toBeGreaterThan(57);
    expect(arm.moment / 10).toBeLessThan(60.5);
  });

  it("lets the head bear what lies on it, and begins where a tube leaves it", async () => {
    // An open band over the girth, and a feather on it; the band's ends are free but lie on the head.
    const around = Array.from({ length: 17 }, (_, i) => {
      const azimuth = -120 + 15 * i;
      return form.grown({ offset: 1.6, hairThickness: 3 }).pointAt({ azimuth, elevation: 8 });
    });
    const lower = (point: Vec3): Vec3 => [point[0], point[1], point[2] - aloft[2]];
    const band = tubeThrough("band", around.map(lower), { radii: 5 });
    const foot = around[8];
    const feather = tubeThrough(
      "feather",
      [foot, [foot[0], foot[1] + 25, foot[2] + 50], [foot[0], foot[1] + 30, foot[2] + 110]].map((p) =>
        lower(p as unknown as Vec3),
      ),
      { radii: [5, 3] },
    );
    const arms = await armsOf([band, feather], { head: wornHead.grown.mesh });
    expect(arms.map(({ part }) => part)).toEqual(["feather"]);
    // Out of the band's surface, 5 mm from its middle.
    expect(Math.hypot(...foot.map((value, axis) => value - arms[0].rootAt[axis]))).toBeCloseTo(5, 0);
    within(arms[0].tip[2], foot[2] + 110, 1e-3);
  });

  it("takes what floats free, closed tubes, twisted outlines and one tube alone without a crash", async () => {
    const free = tubeThrough("free", [
      [0, 0, 100],
      [20, 0, 120],
      [60, 10, 130],
    ]);
    const twisted = tubeThrough(
      "twisted",
      [
        [60, 0, 0],
        [75, 0, 40],
        [90, 0, 90],
      ] as Vec3[],
      {
        radii: [6, 3],
        shape: {
          section: {
            kind: "outline",
            points: [
              [1, 0],
              [0, 0.5],
              [-1, 0],
              [0, -0.5],
            ],
          },
          twist: 200,
        },
      },
    );
    const arms = await armsOf([ring(), free, twisted]);
    expect(arms.map(({ part }) => part)).toEqual(["twisted"]);
    // One tube alone is held in its middle: two arms.
    const [one, other] = await armsOf([
      tubeThrough("rod", [
        [-50, 0, 0],
        [0, 0, 0],
        [50, 0, 0],
      ] as Vec3[]),
    ]);
    expect([one.part, other.part]).toEqual(["rod", "rod"]);
    within(one.moment, 500, 0.06);
  });
});
