import { describe, expect, it } from "vitest";
import { skeletonOf } from "../../../src/checks/beams/skeleton";
import { TubeLine } from "../../../src/checks/beams/tubeLine";
import type { Part } from "../../../src/design/part";
import { Random } from "../../../src/design/random";
import { SignedDistance } from "../../../src/geometry/signedDistance";
import { sweepTube } from "../../../src/geometry/sweep";
import type { TubeShape } from "../../../src/geometry/tubeShape";
import type { Vec2, Vec3 } from "../../../src/geometry/vector";
import { box } from "../shapes";
import { pieceOf, ring, solidAt, tubeThrough, wornHead } from "./strengthPieces";

const keeled = Array.from({ length: 30 }, (_, i): Vec2 => {
  const turn = (i / 30) * 2 * Math.PI;
  const away = 0.9 + 0.2 * Math.cos(2 * turn) + 0.05 * Math.cos(3 * turn);
  return [away * Math.cos(turn), away * Math.sin(turn)];
});

const shapeOf = (part: Part): TubeShape => {
  if (part.kind !== "tube") throw new Error("not a tube");
  return part.shape;
};

describe("the centre line of a tube", () => {
  const coil = Array.from({ length: 40 }, (_, i): Vec3 => {
    const turn = (i / 39) * 3.5 * Math.PI;
    return [22 * Math.cos(turn), 22 * Math.sin(turn), 2.2 * i];
  });
  const lines: [string, TubeShape][] = [
    ["a coil", shapeOf(tubeThrough("coil", coil, { radii: [7, 4, 6], tips: { kind: "round" } }))],
    [
      "a twisted outline",
      shapeOf(
        tubeThrough("keel", coil, {
          radii: [7, 5],
          shape: { section: { kind: "outline", points: keeled }, twist: 160 },
        }),
      ),
    ],
    ["a ring", shapeOf(ring(40, 8))],
    [
      "a bulb",
      shapeOf(tubeThrough("bulb", coil.slice(0, 9), { radii: 4, tips: { kind: "bulb", radius: 7 } })),
    ],
  ];

  it.each(lines)("%s holds the points that its swept mesh holds", (_, shape) => {
    const line = new TubeLine(shape);
    const mesh = new SignedDistance(sweepTube(shape, 0.02));
    const seed = 9;
    const random = new Random(seed);
    let inside = 0;
    for (let i = 0; i < 3000; i++) {
      const at = line.at(random.between(-0.05, 1.05) * line.length);
      const point = at.point.map((value) => value + random.between(-10, 10)) as unknown as Vec3;
      const exact = mesh.at(...point);
      // Within the meshes' own deviation either answer is right.
      if (Math.abs(exact) < 0.25) continue;
      if (exact < 0) inside++;
      expect(line.contains(point), `seed ${seed}, ${point.join(", ")}: ${exact} mm`).toBe(exact < 0);
    }
    expect(inside).toBeGreaterThan(300);
  });

  it.each(lines)("%s finds the nearest sample as a look at all of them does", (_, shape) => {
    const line = new TubeLine(shape);
    const random = new Random(2);
    for (let i = 0; i < 2000; i++) {
      const [x, y, z] = [random.between(-60, 60), random.between(-60, 60), random.between(540, 720)];
      const power = (k: number) =>
        (x - line.points[3 * k]) ** 2 +
        (y - line.points[3 * k + 1]) ** 2 +
        (z - line.points[3 * k + 2]) ** 2 -
        (line.radii[k] * line.reach) ** 2;
      let best = 0;
      for (let k = 1; k < line.count; k++) if (power(k) < power(best)) best = k;
      expect(power(line.nearest(x, y, z))).toBeCloseTo(power(best), 9);
    }
  });
});

describe("the skeleton of a piece", () => {
  const of = async (parts: readonly Part[], head = false) => {
    const piece = await pieceOf(parts, head ? { head: wornHead.grown.mesh } : {});
    return skeletonOf(piece, wornHead.grown);
  };
  const count = (flags: Uint8Array, from: number, length: number) =>
    flags.subarray(from, from + length).reduce((sum, flag) => sum + flag, 0);

  it("leaves out ends that are buried, keeps what runs through another part, and parts with no surface", async () => {
    const skewer = tubeThrough(
      "skewer",
      [
        [60, 0, 0],
        [60, 0, 50],
        [60, 0, 100],
      ] as Vec3[],
      { radii: 3 },
    );
    const through = tubeThrough(
      "through",
      [
        [30, 0, 0],
        [60, 0, 0],
        [90, 0, 0],
      ] as Vec3[],
      { radii: 3 },
    );
    const hidden = tubeThrough(
      "hidden",
      [
        [57, 0, 0],
        [60, 0, 0],
        [63, 0, 0],
      ] as Vec3[],
      { radii: 1 },
    );
    const { limbs, alive } = await of([ring(60, 6), skewer, through, hidden]);
    expect(limbs[3]).toBeUndefined();
    const [first, second] = [limbs[1], limbs[2]];
    if (!first?.line || !second?.line) throw new Error("no limbs");
    // The first 6 mm of the skewer lie in the ring.
    const buried = first.line.positions.filter((position) => position < 5).length;
    expect(first.count - count(alive, first.first, first.count)).toBeGreaterThanOrEqual(buried - 1);
    expect(first.count - count(alive, first.first, first.count)).toBeLessThanOrEqual(buried + 1);
    expect(count(alive, second.first, second.count)).toBe(second.count);
  });

  it("breaks a tube where a cut takes it away", async () => {
    const rod = tubeThrough(
      "rod",
      [
        [60, 0, 0],
        [120, 0, 0],
        [180, 0, 0],
      ] as Vec3[],
      { radii: 4 },
    );
    const gap: Part = {
      kind: "cut",
      name: "gap",
      body: { kind: "solid", mesh: solidAt("gap", box([110, -20, -20], [135, 20, 20])).mesh },
    };
    const whole = await of([ring(60, 6), rod]);
    const cut = await of([ring(60, 6), rod, gap]);
    const limb = cut.limbs[1];
    if (!limb?.line) throw new Error("no limb");
    const gone = limb.line.positions.filter((position) => position > 50 && position < 75).length;
    const difference = count(whole.alive, limb.first, limb.count) - count(cut.alive, limb.first, limb.count);
    expect(Math.abs(difference - gone)).toBeLessThanOrEqual(2);
    const far = cut.order.subarray(cut.component[0], cut.component[1]);
    expect(far.length).toBeLessThan(whole.component[1] - whole.component[0]);
  });

  it("tells what lies on the head from what stands off it", async () => {
    const grown = wornHead.form.grown({ offset: 1.6, hairThickness: 3 });
    const around = Array.from({ length: 24 }, (_, i): Vec3 => {
      const [x, y, z] = grown.pointAt({ azimuth: 15 * i, elevation: 6 });
      return [x, y, z - 600];
    });
    const band = tubeThrough("band", around, { radii: 5, closed: true });
    const off = tubeThrough(
      "off",
      around.map(([x, y, z]): Vec3 => [1.15 * x, 1.15 * y, z]),
      { radii: 5, closed: true },
    );
    const { limbs, seated } = await of([band, off], true);
    const [on, away] = limbs;
    if (!on || !away) throw new Error("no limbs");
    expect(count(seated, on.first, on.count)).toBe(on.count);
    expect(count(seated, away.first, away.count)).toBe(0);
  });
});
