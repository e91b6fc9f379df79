import { describe, expect, it } from "vitest";
import { type Sight, sight } from "../../src/checks/sight";
import { coverFrom } from "../../src/checks/view/cover";
import {
  bothBorder,
  cellOf,
  couldSee,
  directionGrid,
  directionOfCell,
  type Eye,
  eyes,
  fieldBorder,
  normalField,
  sightReach,
} from "../../src/checks/view/visualField";
import { WornPiece } from "../../src/checks/wornPiece";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { anyPerpendicular, cross, degrees, normalize, radians, type Vec3 } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, moved, together, turned } from "./shapes";
import { headOf, partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const head = headOf();
const { leftEye, rightEye } = head.landmarks;

/** Unit vector of a direction by its angle from straight ahead and its meridian, as the wearer sees it. */
const towards = (eccentricity: number, meridian: number): Vec3 => {
  const [s, c] = [Math.sin(radians(eccentricity)), Math.cos(radians(eccentricity))];
  return [s * Math.cos(radians(meridian)), c, s * Math.sin(radians(meridian))];
};

/** A disc of an angular radius, seen square from a point at a distance. */
function disc(
  from: Vec3,
  alpha: number,
  eccentricity: number,
  meridian: number,
  distance = 60,
): TriangleMesh {
  const radius = distance * Math.tan(radians(alpha));
  const flat = turned(
    [
      [0, 0],
      [radius, 0],
      [radius, 0.01],
      [0, 0.01],
    ],
    240,
  );
  const w = normalize(towards(eccentricity, meridian));
  const u = anyPerpendicular(w);
  const v = cross(w, u);
  const positions = flat.positions.slice();
  for (let i = 0; i < positions.length; i += 3) {
    const [x, y, z] = [flat.positions[i], flat.positions[i + 1], flat.positions[i + 2] + distance];
    for (let axis = 0; axis < 3; axis++) {
      positions[i + axis] = from[axis] + x * u[axis] + y * v[axis] + z * w[axis];
    }
  }
  return { positions, triangles: flat.triangles };
}

/** Every 32-bit seed gives a stream of its own (mulberry32). */
function randomOf(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

describe("the normal field", () => {
  // From memory, handbooks of perimetry: 100° temporal, 60° nasal and up, 70 to 75° down.
  it("reaches as far as handbooks say, on the temporal side of each eye", () => {
    expect(normalField).toMatchObject({ temporal: 100, nasal: 60, up: 60 });
    expect(normalField.down).toBeGreaterThanOrEqual(70);
    expect(normalField.down).toBeLessThanOrEqual(75);
    expect([0, 90, 180, 270].map((meridian) => Math.round(fieldBorder("right", meridian)))).toEqual([
      100,
      60,
      60,
      normalField.down,
    ]);
    for (let meridian = 0; meridian < 360; meridian += 7) {
      expect(fieldBorder("left", 180 - meridian)).toBeCloseTo(fieldBorder("right", meridian), 9);
      // Smooth: no corner between two neighbouring degrees.
      const bend =
        fieldBorder("left", meridian + 1) -
        2 * fieldBorder("left", meridian) +
        fieldBorder("left", meridian - 1);
      expect(Math.abs(bend)).toBeLessThan(0.1);
    }
  });

  // A cone of directions up to θ(φ) has the solid angle ∫(1 − cos θ) dφ.
  it("has the solid angle that its border encloses", () => {
    const { field } = sight(pieceOf(box([0, -300, 0], [1, -299, 1])), head, limits);
    const solidAngle = (border: (meridian: number) => number): number => {
      let sum = 0;
      for (let i = 0; i < 3600; i++) sum += (1 - Math.cos(radians(border(i / 10)))) * radians(0.1);
      return sum;
    };
    expect(field.left / solidAngle((m) => fieldBorder("left", m))).toBeCloseTo(1, 3);
    expect(field.right / field.left).toBeCloseTo(1, 9);
    expect(field.both / solidAngle(bothBorder)).toBeCloseTo(1, 3);
  });
});

describe("a disc before an eye covers the solid angle 2π(1 − cos α)", () => {
  // The cap of a ball: Archimedes, On the Sphere and Cylinder I.42.
  for (const [alpha, eccentricity, meridian] of [
    [5, 0, 0],
    [5, 80, 5],
    [5, 50, 270],
    [10, 30, 90],
    [10, 40, 160],
    [20, 60, 330],
    [40, 10, 300],
    [40, 50, 350],
  ] as const) {
    it(`α ${alpha}°, ${eccentricity}° off on the meridian ${meridian}°`, () => {
      const found = sight(pieceOf(disc(rightEye, alpha, eccentricity, meridian)), head, limits);
      const solidAngle = found.covered.right * found.field.right;
      const expected = 2 * Math.PI * (1 - Math.cos(radians(alpha)));
      expect(Math.abs(solidAngle / expected - 1)).toBeLessThan(0.01);
      // Along the meridian through its middle it lies α to each side.
      const nearest = Math.round(meridian / 5) * 5;
      const plotted = found.plot.find((one) => one.meridian === nearest)!.covered.right;
      expect(plotted).toHaveLength(1);
      expect(Math.abs(plotted[0][0] - Math.max(0, eccentricity - alpha))).toBeLessThan(1);
      expect(Math.abs(plotted[0][1] - (eccentricity + alpha))).toBeLessThan(1);
    });
  }
});

/** A wall 100 mm to the right of the right eye that hides what lies beyond `angle` on that side. */
const wall = (angle: number): TriangleMesh => {
  const [x, y, z] = rightEye;
  return box([x + 100, y - 300, z - 80], [x + 101, y + 100 / Math.tan(radians(angle)), z + 80]);
};
/** A brim over both eyes that hides what lies above `angle`. */
const brim = (angle: number): TriangleMesh => {
  const [, y, z] = rightEye;
  return box([-250, y - 200, z + 30], [250, y + 30 / Math.tan(radians(angle)), z + 31]);
};
/** A collar below both eyes that hides what lies below `angle`. */
const collar = (angle: number): TriangleMesh => {
  const [, y, z] = rightEye;
  return box([-250, y - 200, z - 31], [250, y + 30 / Math.tan(radians(angle)), z - 30]);
};

describe("degrees free", () => {
  it("to the right, where the right eye alone sees", () => {
    for (const angle of [65, 75, 95, 104]) {
      const { free } = sight(pieceOf(wall(angle)), head, limits);
      expect(Math.abs(free.right - angle)).toBeLessThan(0.5);
      expect(free).toMatchObject({ left: sightReach, up: sightReach, down: sightReach });
    }
  });

  it("to the right, where the left eye still sees past", () => {
    // The wall ends at 40° for the right eye; from the left one it lies farther off: the arc tangent says how far.
    const far = 100 + rightEye[0] - leftEye[0];
    const expected = degrees(Math.atan(far / (100 / Math.tan(radians(40)))));
    expect(expected).toBeLessThan(60);
    const { free } = sight(pieceOf(wall(40)), head, limits);
    expect(Math.abs(free.right - expected)).toBeLessThan(0.5);
  });

  it("beyond the border of both eyes, where the eye on that side is asked alone", () => {
    // From the left eye the small disc beside the right one is not in the way.
    const { free } = sight(pieceOf(disc(rightEye, 2, 105, 0, 30)), head, limits);
    expect(Math.abs(free.right - 103)).toBeLessThan(0.5);
  });

  it("up and down", () => {
    for (const angle of [15, 40, 70]) {
      expect(Math.abs(sight(pieceOf(brim(angle)), head, limits).free.up - angle)).toBeLessThan(0.5);
      expect(Math.abs(sight(pieceOf(collar(angle)), head, limits).free.down - angle)).toBeLessThan(0.5);
    }
  });

  it("on slanting meridians", () => {
    // A plane at height h over the eyes is met at sin θ · sin φ over cos θ = tan(brim) on the meridian φ.
    const { freeByMeridian } = sight(pieceOf(brim(30)), head, limits);
    for (const meridian of [45, 60, 75, 105, 120]) {
      const expected = degrees(Math.atan(Math.tan(radians(30)) / Math.sin(radians(meridian))));
      const found = freeByMeridian.find((one) => one.meridian === meridian)!;
      expect(Math.abs(found.free - expected)).toBeLessThan(1);
    }
  });

  it("of a mirrored piece are mirrored", () => {
    const mesh = together(wall(70), disc(rightEye, 10, 30, 20));
    const mirrored: TriangleMesh = {
      positions: mesh.positions.map((value, i) => (i % 3 === 0 ? -value : value)),
      triangles: mesh.triangles.map((_, i) => mesh.triangles[i % 3 === 1 ? i + 1 : i % 3 === 2 ? i - 1 : i]),
    };
    const [one, other] = [sight(pieceOf(mesh), head, limits), sight(pieceOf(mirrored), head, limits)];
    expect(other.free.left).toBeCloseTo(one.free.right, 6);
    expect(other.covered.left).toBeCloseTo(one.covered.right, 3);
    expect(other.covered.both).toBeCloseTo(one.covered.both, 3);
  });
});

describe("against rays", () => {
  /** Discs, boxes and balls strewn before the face. */
  function strewn(random: () => number): TriangleMesh[] {
    const between = (least: number, most: number) => least + (most - least) * random();
    return Array.from({ length: 6 }, () => {
      const from = random() < 0.5 ? leftEye : rightEye;
      const [eccentricity, meridian] = [between(0, 100), between(0, 360)];
      const distance = between(15, 150);
      const at = towards(eccentricity, meridian);
      const middle = from.map((value, axis) => value + distance * at[axis]) as unknown as Vec3;
      const kind = random();
      if (kind < 0.4) return disc(from, between(2, 25), eccentricity, meridian, distance);
      if (kind < 0.7) {
        const sides = [0, 1, 2].map(() => between(1, distance / 2));
        return moved(box([0, 0, 0], sides as unknown as Vec3), middle);
      }
      const radii = [0, 1, 2].map(() => between(2, distance / 2));
      return moved(ellipsoid(radii[0], radii[1], radii[2], 24, 40), middle);
    });
  }

  it("shares agree with 200,000 random rays, whatever stands before the eyes", () => {
    for (let seed = 1; seed <= 5; seed++) {
      const random = randomOf(seed);
      const piece = pieceOf(strewn(random));
      const found = sight(piece, head, limits);
      const from: Record<Eye, Vec3> = { left: leftEye, right: rightEye };
      const seen = { left: 0, right: 0, both: 0 };
      const hidden = { left: 0, right: 0, both: 0 };
      for (let i = 0; i < 200_000; i++) {
        // Even over the sphere: the cosine to straight ahead is (Archimedes).
        const eccentricity = degrees(Math.acos(1 - random() * (1 - Math.cos(radians(normalField.temporal)))));
        const meridian = 360 * random();
        if (eccentricity > bothBorder(meridian)) continue;
        const d = towards(eccentricity, meridian);
        seen.both++;
        let isFree = false;
        for (const eye of eyes) {
          if (!couldSee(eye, eccentricity, meridian)) continue;
          seen[eye]++;
          if (piece.tree.meets(...from[eye], ...d)) hidden[eye]++;
          else isFree = true;
        }
        if (!isFree) hidden.both++;
      }
      for (const field of ["left", "right", "both"] as const) {
        const share = hidden[field] / seen[field];
        // Four standard deviations of a share of so many rays, and the grid's own tenth of a percent.
        const most = 4 * Math.sqrt((share * (1 - share)) / seen[field]) + 0.001;
        expect({ seed, field, isNear: Math.abs(found.covered[field] - share) < most }).toEqual({
          seed,
          field,
          isNear: true,
        });
      }
    }
  });

  it("every direction of the grid has the first hit's distance", () => {
    const seed = 11;
    const random = randomOf(seed);
    const piece = pieceOf(strewn(random));
    const cover = coverFrom(piece.mesh, rightEye);
    const { size } = directionGrid;
    let different = 0;
    let looked = 0;
    let met = 0;
    for (let i = 0; i < 60_000; i++) {
      const cell = Math.floor(random() * size * size);
      const d = directionOfCell(cell);
      if (d[1] < Math.cos(radians(sightReach))) continue;
      looked++;
      const far = piece.tree.firstHit(...rightEye, ...d);
      const near = cover.nearness[cell];
      if (far > 0) met++;
      if (far > 0 !== near > 0 || (far > 0 && Math.abs(far * near - 1) > 1e-4)) different++;
    }
    expect(met, `seed ${seed}`).toBeGreaterThan(1000);
    // A ray through an edge may be judged either way.
    expect(different / looked, `seed ${seed}`).toBeLessThan(0.0005);
  });

  it("a direction's cell is the one whose middle is nearest", () => {
    for (const [eccentricity, meridian] of [
      [0, 0],
      [33, 12],
      [88, 200],
      [109, 301],
    ]) {
      const d = directionOfCell(cellOf(eccentricity, meridian));
      const e = towards(eccentricity, meridian);
      const off = degrees(Math.acos(Math.min(1, d[0] * e[0] + d[1] * e[1] + d[2] * e[2])));
      expect(off).toBeLessThan(0.32);
    }
  });
});

describe("parts", () => {
  it("share what they cover by what comes first", () => {
    // The far disc is wholly behind the near one, but for one eye; a third stands alone.
    const meshes = [
      disc(rightEye, 12, 75, 0, 50),
      disc(rightEye, 12, 75, 0, 90),
      disc(leftEye, 8, 75, 180, 50),
    ];
    const { parts, covered } = sight(pieceOf(meshes), head, limits);
    expect(parts.map(({ part }) => part)).toEqual(["part 1", "part 3"]);
    expect(parts.reduce((sum, { both }) => sum + both, 0)).toBeCloseTo(covered.both, 9);
    expect(parts[0].right).toBeCloseTo(covered.right, 9);
    expect(parts[1].left).toBeCloseTo(covered.left, 9);
  });

  it("that stand before both eyes count half for each", () => {
    const { parts, covered } = sight(pieceOf(brim(20)), head, limits);
    expect(covered.both).toBeGreaterThan(0.1);
    expect(parts.map(({ both }) => both / covered.both)).toEqual([expect.closeTo(1, 9)]);
  });
});

/** The findings' ids with their severity. */
const told = ({ findings }: Sight): string[] => findings.map(({ id, severity }) => `${severity} ${id}`);

describe("findings, each with a twin that has none", () => {
  const named = (mesh: TriangleMesh) => pieceOf(mesh, { parts: [partOf("kelp blade", 17, mesh)] });

  it("a side that is covered", () => {
    const found = sight(named(wall(75)), head, limits);
    expect(told(found)).toEqual(["warning sight-side"]);
    const [finding] = found.findings;
    expect(finding).toMatchObject({
      check: "sight",
      part: "kelp blade",
      line: 17,
      unit: "°",
      limit: { name: "sightSide", value: 105, source: "16 CFR 1203.12(a)" },
    });
    expect(Math.abs(finding.value - 75)).toBeLessThan(1);
    expect(finding.text).toMatch(
      /"kelp blade" leaves 7[45]° of sight to the right, less than 105°.*yardstick only/,
    );
    expect(finding.suggestion).toMatch(/3[01]° farther back/);
    // It is told where the piece begins to cover: at the wall's edge.
    expect(finding.at![0]).toBeCloseTo(rightEye[0] + 100, 0);
    expect(told(sight(named(wall(107)), head, limits))).toEqual([]);
  });

  it("a side that is nearly free is only told", () => {
    expect(told(sight(named(wall(95)), head, limits))).toEqual(["note sight-side"]);
    const own = limitsOf({ wearer: { sightSide: 90 } });
    expect(told(sight(named(wall(95)), head, own))).toEqual([]);
    // The yardstick is named where it is the limit, and not where somebody set one.
    const set = sight(named(wall(75)), head, own).findings[0];
    expect(set.text).not.toContain("CFR");
    expect(set.limit?.source).toBe("set by the wearer");
  });

  it("sight upwards and downwards", () => {
    const open = limitsOf({ design: { sightCovered: 100 } });
    expect(told(sight(named(brim(25)), head, open))).toEqual(["warning sight-up"]);
    expect(told(sight(named(brim(35)), head, open))).toEqual([]);
    expect(told(sight(named(collar(40)), head, open))).toEqual(["warning sight-down"]);
    expect(told(sight(named(collar(50)), head, open))).toEqual([]);
  });

  it("share covered, and a face that is shut off", () => {
    const [, y, z] = rightEye;
    const visor = (low: number) => box([-150, y + 30, z + low], [150, y + 31, z + 100]);
    const warned = sight(named(visor(14)), head, limits);
    expect(told(warned)).toEqual(["warning sight-up", "warning sight-covered"]);
    expect(told(sight(named(visor(45)), head, limits))).toEqual([]);
    const shut = sight(named(visor(-100)), head, limits);
    expect(told(shut)).toContain("error sight-blocked");
    const blocked = shut.findings.find(({ id }) => id === "sight-blocked")!;
    expect(blocked).toMatchObject({
      part: "kelp blade",
      line: 17,
      limit: { name: "sightBlocked", value: 60 },
    });
    expect(blocked.value).toBeGreaterThan(60);
    expect(told(warned)).not.toContain("error sight-blocked");
  });
});

/** Whether something is plain data: no class, no number that JSON lacks. */
function expectPlain(value: unknown): void {
  expect(structuredClone(value)).toEqual(value);
  expect(JSON.parse(JSON.stringify(value))).toEqual(value);
}

describe("odd pieces", () => {
  it("gives plain data", () => {
    expectPlain(sight(pieceOf([wall(75), brim(20)]), head, limits));
  });

  it("an eye within the solid sees nothing", () => {
    const [x, y, z] = rightEye;
    const found = sight(pieceOf(box([x - 9, y - 7, z - 8], [x + 5, y + 6, z + 4])), head, limits);
    expect(found.covered.right).toBe(1);
    expect(found.covered.left).toBeLessThan(0.5);
  });

  it("an eye on a corner, an edge and a face of the solid", () => {
    const [x, y, z] = rightEye.map(Math.fround);
    const exact = { landmarks: { ...head.landmarks, rightEye: [x, y, z] as Vec3 } };
    for (const [lx, ly, lz] of [
      [0, 0, 0],
      [-10, 0, 0],
      [-10, 0, -10],
    ]) {
      const body = moved(box([lx, ly, lz], [10, 10, 10]), [x, y, z]);
      const found = sight(pieceOf(body), exact, limits);
      expectPlain(found);
      expect(found.covered.right).toBeGreaterThan(0.05);
    }
  });

  it("nothing, a speck, a far piece, parts that are not listed", () => {
    const nothing = new WornPiece({
      ...pieceOf(box([0, 0, 0], [1, 1, 1])),
      mesh: { positions: new Float32Array(), triangles: new Uint32Array(), partOfTriangle: new Int32Array() },
      parts: [],
    });
    for (const piece of [
      nothing,
      pieceOf(moved(box([0, 0, 0], [1e-4, 1e-4, 1e-4]), [0, 200, 0])),
      pieceOf(box([1e6, 1e6, 1e6], [1e6 + 1, 1e6 + 1, 1e6 + 1])),
    ]) {
      const found = sight(piece, head, limits);
      expectPlain(found);
      expect(found.covered.both).toBe(0);
      expect(found.findings).toEqual([]);
    }
    const unlisted = sight(pieceOf(wall(75), { parts: [] }), head, limits);
    expectPlain(unlisted);
    expect(unlisted.parts).toEqual([]);
    expect(unlisted.findings[0].text).toContain("the piece leaves");
  });
});
