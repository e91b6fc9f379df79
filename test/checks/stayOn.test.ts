import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { type StayOn, stayOn } from "../../src/checks/stayOn";
import { WornPiece } from "../../src/checks/wornPiece";
import type { TriangleMesh } from "../../src/geometry/mesh";
import {
  add,
  cross,
  degrees,
  normalize,
  radians,
  scale,
  subtract,
  type Vec3,
} from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, ellipsoid, insideOut, meshOf, moved, torus, turned } from "./shapes";
import { formOf, headOf, partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const withFriction = (friction: number) => limitsOf({ design: { friction } });

/** The same piece with its centre of mass elsewhere: as if it carried a weight. */
const weighted = (piece: WornPiece, centre: Vec3): WornPiece =>
  new WornPiece({
    mesh: piece.mesh,
    parts: piece.parts,
    material: piece.material,
    print: piece.print,
    mass: piece.mass,
    centre,
  });

/** No NaN, no Infinity, no class: what was found passes to another process and to JSON unchanged. */
function expectPlain(found: StayOn): void {
  expect(structuredClone(found)).toEqual(found);
  expect(JSON.parse(JSON.stringify(found))).toEqual(found);
  for (const { degrees: angle } of Object.values(found.angles)) {
    expect(angle).toBeGreaterThanOrEqual(0);
    expect(angle).toBeLessThanOrEqual(90);
  }
}

/**
 * Angle to which a ring of radius ρ holds whose contacts' normals lean outwards by ψ, its centre h above it: weight and
 * the reactions of the two outermost contacts go through one point (three forces in balance: statics, any textbook).
 * Giving way it slides at both, each reaction on the edge of its cone, at ψ + λ and ψ − λ from the upright, tan λ = µ.
 * That the other contacts add nothing is derived in the test of the balance.
 */
function ringAngle(radius: number, lean: number, height: number, friction: number): number {
  const edge = degrees(Math.atan(friction));
  // The ring slides towards −y: at +ρ the reaction leans by ψ + λ outwards or by ψ − λ, at −ρ by the other.
  const angles = [1, -1].map((sign) => {
    const one = radians(lean + sign * edge);
    const other = -radians(lean - sign * edge);
    const turn = Math.sin(one) * Math.cos(other) - Math.cos(one) * Math.sin(other);
    const k = (-2 * radius * Math.cos(other)) / turn;
    return degrees(Math.atan(Math.abs((radius + k * Math.sin(one)) / (k * Math.cos(one) - height))));
  });
  return Math.min(...angles);
}

/** A ring whose tube touches a surface that leans by ψ; its vertices lie on the line of contact. */
const leaningRing = (radius: number, tube: number, lean: number): TriangleMesh => {
  const middle = radius + tube * Math.sin(radians(lean));
  return moved(torus(middle, tube, 180, 72), [0, 0, tube * Math.cos(radians(lean))]);
};

describe("stayOn on heads of known shape", () => {
  const plane = box([-200, -200, 60], [200, 200, 120]);

  it("a block on a plane slides at atan µ", () => {
    // Coulomb's law of friction.
    const block = pieceOf(box([-40, -30, 120], [40, 30, 140]));
    for (const friction of [0.2, 0.3, 0.5]) {
      const found = stayOn(block, headOf(plane), withFriction(friction));
      expect(found.inBalance && found.rests).toBe(true);
      for (const { degrees: angle, how } of Object.values(found.angles)) {
        expect(Math.abs(angle - degrees(Math.atan(friction)))).toBeLessThan(1);
        expect(how).toBe("slides");
      }
    }
  });

  it("a tall block on a plane tips at atan(half width / height of the centre)", () => {
    // Statics of a block on an inclined plane.
    const found = stayOn(pieceOf(box([-40, -25, 121], [40, 25, 321])), headOf(plane), withFriction(1));
    expect(found.settled.translation[2]).toBeCloseTo(-1, 1);
    for (const [nod, half] of [
      ["forward", 25],
      ["back", 25],
      ["left", 40],
      ["right", 40],
    ] as const) {
      expect(Math.abs(found.angles[nod].degrees - degrees(Math.atan(half / 100)))).toBeLessThan(1);
      expect(found.angles[nod].how).toBe("tips");
    }
    const share = found.contacts.reduce((sum, contact) => sum + contact.share, 0);
    expect(share).toBeCloseTo(1, 2);
    expect(found.findings.map(({ id }) => id)).toContain("gives-way");
  });

  it("a stool on three legs tips over the line between two of them", () => {
    // Statics: the inner circle of the triangle of the feet has half the radius of the outer one.
    const legs = [0, 120, 240].map((azimuth) => {
      const [x, y] = [100 * Math.sin(radians(azimuth)), 100 * Math.cos(radians(azimuth))];
      return moved(ellipsoid(4, 4, 20, 24, 24), [x, y, 140]);
    });
    const seatOfStool = moved(torus(100, 6, 90, 24), [0, 0, 158]);
    const piece = weighted(pieceOf([...legs, seatOfStool]), [0, 0, 240]);
    const found = stayOn(piece, headOf(plane), withFriction(2));
    expect(new Set(found.contacts.map(({ part }) => part))).toEqual(new Set(["part 1", "part 2", "part 3"]));
    expect(Math.abs(found.angles.back.degrees - degrees(Math.atan(50 / 120)))).toBeLessThan(1);
    expect(Math.abs(found.angles.forward.degrees - degrees(Math.atan(100 / 120)))).toBeLessThan(1);
    expect(found.angles.back.how).toBe("tips");
  });

  it.each([
    [50, 0, 0.3],
    [45, 40, 0.3],
    [60, 20, 0.5],
  ])("a ring on a ball, %i° from its top, its centre %i mm above, friction %f", (polar, height, friction) => {
    const ball = 95;
    const top: Vec3 = [0, 0, 20];
    const radius = ball * Math.sin(radians(polar));
    const ring = moved(leaningRing(radius, 5, polar), [0, 0, top[2] + ball * Math.cos(radians(polar))]);
    const level = top[2] + ball * Math.cos(radians(polar));
    const piece = weighted(pieceOf(ring), [0, 0, level + height]);
    const found = stayOn(
      piece,
      headOf(moved(ellipsoid(ball, ball, ball, 180, 360), top)),
      withFriction(friction),
    );
    const expected = ringAngle(radius, polar, height, friction);
    expect(found.rests).toBe(true);
    for (const { degrees: angle } of Object.values(found.angles)) {
      expect(Math.abs(angle - expected)).toBeLessThan(1);
    }
  });

  it.each([
    [45, 0, 0.3],
    [55, 30, 0.3],
    [35, 60, 0.5],
  ])(
    "a ring on a cone whose side leans by %i°, its centre %i mm above, friction %f",
    (lean, height, friction) => {
      const [wide, base] = [150, -40];
      const tip = base + wide * Math.tan(radians(lean));
      const cone = turned(
        [
          [0, base],
          [wide, base],
          [0, tip],
        ],
        360,
      );
      const radius = 80;
      const level = tip - radius * Math.tan(radians(lean));
      const ring = moved(leaningRing(radius, 5, lean), [0, 0, level + 2]);
      const piece = weighted(pieceOf(ring), [0, 0, level + 2 + height]);
      const found = stayOn(piece, headOf(cone), withFriction(friction));
      const expected = ringAngle(radius, lean, height, friction);
      expect(found.settled.translation[2]).toBeCloseTo(-2, 1);
      for (const { degrees: angle, how } of Object.values(found.angles)) {
        expect(Math.abs(angle - expected)).toBeLessThan(1);
        expect(how).toBe("slides");
      }
    },
  );

  it("contacts share the weight of a ring on a cone evenly, each pressing with weight / cos ψ where nothing rubs", () => {
    // Without friction every normal force gives cos ψ of itself against the weight.
    const lean = 45;
    const cone = turned(
      [
        [0, -40],
        [150, -40],
        [0, 110],
      ],
      360,
    );
    const piece = pieceOf(moved(leaningRing(80, 5, lean), [0, 0, 30]), { mass: 200 });
    const found = stayOn(piece, headOf(cone), withFriction(0.02));
    const normal = found.contacts.reduce((sum, contact) => sum + contact.normal, 0);
    const weight = 0.2 * 9.80665;
    expect(found.contacts.reduce((sum, contact) => sum + contact.share, 0)).toBeCloseTo(1, 2);
    expect(Math.abs(normal / (weight / Math.cos(radians(lean))) - 1)).toBeLessThan(0.03);
    expect(found.contacts[0].normal / normal).toBeLessThan(2 / found.contacts.length);
  });
});

const form = formOf();

/** A round tube through points, closed in itself or with flat ends. */
function tube(points: readonly Vec3[], radius: number, closed: boolean): TriangleMesh {
  const segments = 24;
  const count = points.length;
  const rings = points.map((point, i): Vec3[] => {
    const before = points[closed ? (i + count - 1) % count : Math.max(0, i - 1)];
    const after = points[closed ? (i + 1) % count : Math.min(count - 1, i + 1)];
    const along = normalize(subtract(after, before));
    // Out from the middle of the head, at right angles to the tube.
    const out = normalize(cross(cross(along, subtract(point, form.center)), along));
    const side = cross(along, out);
    return Array.from({ length: segments }, (_, k) => {
      const angle = (2 * Math.PI * k) / segments;
      return add(point, add(scale(out, radius * Math.cos(angle)), scale(side, radius * Math.sin(angle))));
    });
  });
  const triangles: number[][] = [];
  for (let i = 0; i < (closed ? count : count - 1); i++) {
    for (let k = 0; k < segments; k++) {
      const at = (ring: number, corner: number) => (ring % count) * segments + (corner % segments);
      triangles.push([at(i, k), at(i + 1, k), at(i + 1, k + 1)], [at(i, k), at(i + 1, k + 1), at(i, k + 1)]);
    }
  }
  for (let k = 1; k + 1 < segments && !closed; k++) {
    const end = (count - 1) * segments;
    triangles.push([0, k, k + 1], [end, end + k + 1, end + k]);
  }
  const mesh = meshOf(rings.flat(), triangles);
  return massProperties(mesh).volume < 0 ? insideOut(mesh) : mesh;
}

/** A band round the mean head, its tube as far off as the ease; open behind by so many degrees. */
function band(ease: number, elevation: number, open = 0, radius = 5): TriangleMesh {
  const count = 120;
  const points = Array.from({ length: count }, (_, i) => {
    const azimuth = -180 + open / 2 + ((360 - open) * i) / (open > 0 ? count - 1 : count);
    return form.pointAt({ azimuth, elevation, lift: ease + radius });
  });
  return tube(points, radius, open === 0);
}

/** A tube from one side to the other over the crown. */
const overCrown = (lowest: number, azimuth = 90): TriangleMesh =>
  tube(
    Array.from({ length: 60 }, (_, i) => {
      const angle = lowest + ((180 - 2 * lowest) * i) / 59;
      return form.pointAt(
        angle <= 90
          ? { azimuth, elevation: angle, lift: 6 }
          : { azimuth: azimuth - 180, elevation: 180 - angle, lift: 6 },
      );
    }),
    5,
    false,
  );

const named = (names: readonly string[], meshes: readonly TriangleMesh[]): WornPiece =>
  pieceOf(meshes, { parts: names.map((name, i) => partOf(name, 10 + i, meshes[i])) });

describe("stayOn on a mean head", () => {
  const head = headOf();

  it("lets a band come down by its ease and rest all round, and finds nothing to say", () => {
    const found = stayOn(named(["tide ring"], [band(1.3, 20)]), head, limits);
    expect(found.rests && found.inBalance).toBe(true);
    expect(found.settled.translation[2]).toBeLessThan(-1);
    expect(found.settled.translation[2]).toBeGreaterThan(-8);
    expect(found.contacts.map(({ side }) => side)).toEqual(expect.arrayContaining(["front", "back"]));
    expect(found.contacts.every(({ part }) => part === "tide ring")).toBe(true);
    expect(found.findings).toEqual([]);
    expect(found.aids).toEqual([]);
    expectPlain(found);
  });

  it("tells of a tall crest on one side that pulls the band over, and of what helps; its twin without holds", () => {
    const crest = moved(ellipsoid(14, 30, 130, 40, 40), [95, 0, 190]);
    const found = stayOn(named(["tide ring", "reed crest"], [band(1.3, 20), crest]), head, withFriction(0.2));
    const twin = stayOn(named(["tide ring"], [band(1.3, 20)]), head, withFriction(0.2));
    expect(twin.findings).toEqual([]);
    expect(found.findings.length).toBeGreaterThan(0);
    const about = found.findings.find(({ id }) => id === "does-not-stay" || id === "gives-way");
    expect(about?.severity).toBe("warning");
    expect(found.aids.length).toBeGreaterThan(0);
    expect(about?.suggestion).toContain(found.aids[0].words);
    // The crest's own line.
    expect([about?.part, about?.line]).toEqual(["reed crest", 11]);
    expect(about?.text).toContain('"reed crest"');
    for (const aid of found.aids) {
      expect(aid.needs === undefined || (aid.needs > 0 && aid.needs <= aid.force)).toBe(true);
      for (const nod of ["forward", "back", "left", "right"] as const) {
        expect(aid.holds[nod]).toBeGreaterThan(found.angles[nod].degrees - 0.5);
      }
    }
    expectPlain(found);
  });

  it("is an error where no comb and no elastic is strong enough", () => {
    const crest = moved(ellipsoid(14, 30, 130, 40, 40), [95, 0, 190]);
    const parts = [partOf("tide ring", 10), partOf("reed crest", 11)];
    const heavy = pieceOf([band(1.3, 20), crest], { parts, mass: 20_000 });
    const found = stayOn(heavy, head, withFriction(0.2));
    expect(found.aids).toEqual([]);
    const finding = found.findings.find(({ id }) => id === "does-not-stay");
    expect([finding?.severity, finding?.part]).toEqual(["error", "reed crest"]);
    expectPlain(found);
  });

  it("does not hold a tube that only lies over the crown when the head nods, and a second one across holds it", () => {
    const one = stayOn(named(["kelp"], [overCrown(20)]), head, limits);
    const both = stayOn(named(["kelp", "reed"], [overCrown(20), overCrown(20, 0)]), head, limits);
    const least = (found: StayOn) => Math.min(found.angles.forward.degrees, found.angles.back.degrees);
    expect(least(one)).toBeLessThan(least(both));
    expect(one.findings.length).toBeGreaterThan(0);
    expectPlain(one);
    expectPlain(both);
  });

  it("holds a cap and a band that is open behind", () => {
    const cap = turned(
      [
        ...Array.from({ length: 31 }, (_, i): [number, number] => arc(92, 70 * (i / 30))),
        ...Array.from({ length: 31 }, (_, i): [number, number] => arc(95, 70 * (1 - i / 30))),
      ],
      90,
    );
    const ball = headOf(moved(ellipsoid(91, 91, 91, 90, 180), [0, 0, 40]));
    const onBall = stayOn(named(["cap"], [moved(cap, [0, 0, 40])]), ball, limits);
    expect(onBall.rests && onBall.inBalance).toBe(true);
    expectPlain(onBall);
    const open = stayOn(named(["open band"], [band(1.3, 15, 80)]), head, limits);
    expect(open.contacts.length).toBeGreaterThan(2);
    expectPlain(open);
  });

  it("says that a piece far from the head rests nowhere, and takes a piece as small as a speck", () => {
    for (const piece of [
      named(["gull"], [moved(ellipsoid(20, 20, 20, 12, 24), [0, 0, 900])]),
      named(["gull"], [moved(ellipsoid(20, 20, 20, 12, 24), [0, 0, 300])]),
    ]) {
      const found = stayOn(piece, head, limits);
      expect(found.rests || found.inBalance).toBe(false);
      expect(found.contacts).toEqual([]);
      expect(found.findings.map(({ id, severity }) => [id, severity])).toEqual([["rests-nowhere", "error"]]);
      expect(found.findings[0].value).toBeGreaterThan(100);
      expectPlain(found);
    }
    const [, , top] = form.landmarks.crown;
    expectPlain(stayOn(pieceOf(box([0, 0, top], [0.2, 0.2, top + 0.2])), head, limits));
    expectPlain(
      stayOn(pieceOf(box([-30, -30, top], [30, 30, top + 5]), { parts: [], mass: 0 }), head, limits),
    );
    expectPlain(stayOn(pieceOf(box([-300, -300, -300], [300, 300, 300])), head, limits));
  });

  it("takes a torn, open and folded head", () => {
    const { positions, triangles } = form.mesh();
    const torn = {
      positions: positions.map((value, i) => value + (((i * 7919) % 13) - 6) * 0.05),
      // Each seventh triangle is lost, each eleventh turned over, and one has no area.
      triangles: Uint32Array.from(
        [...Array(triangles.length / 3).keys()].flatMap((t) => {
          const [a, b, c] = triangles.subarray(3 * t, 3 * t + 3);
          return t % 7 === 3 ? [] : t % 11 === 5 ? [b, a, c] : t === 1 ? [a, a, b] : [a, b, c];
        }),
      ),
    };
    const found = stayOn(named(["tide ring"], [band(1.3, 20)]), headOf(torn, { hair: 3 }), limits);
    expect(found.contacts.length).toBeGreaterThan(0);
    expectPlain(found);
  });

  it("asks of a pair of combs what statics asks: weight · sin(a − λ) between them for a block on a plane", () => {
    // A force at the friction angle to the slope holds best: three forces, the reaction on the edge of its cone.
    const block = pieceOf(box([-90, -60, 120], [90, 60, 130]), { mass: 400 });
    const found = stayOn(block, headOf(box([-200, -200, 60], [200, 200, 120])), withFriction(0.2));
    const combs = found.aids.find(({ kind }) => kind === "comb");
    const weight = 0.4 * 9.80665;
    const total = weight * Math.sin(radians(limits.nodForward.value) - Math.atan(0.2));
    expect(combs?.needs).toBeDefined();
    const given = (combs?.needs ?? 0) * (combs?.places.length ?? 0);
    expect(given / total).toBeGreaterThan(0.97);
    expect(given / total).toBeLessThan(1.15);
  });
});

const arc = (radius: number, angle: number): [number, number] =>
  angle === 0 ? [0, radius] : [radius * Math.sin(radians(angle)), radius * Math.cos(radians(angle))];
