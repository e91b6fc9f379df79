import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Balance, type Contacts, turnedGravity } from "../../../src/checks/balance/balance";
import {
  add,
  cross,
  degrees,
  normalize,
  radians,
  scale,
  subtract,
  type Vec3,
} from "../../../src/geometry/vector";

const down: Vec3 = [0, 0, -1];
const forward: Vec3 = [0, 1, 0];
const right: Vec3 = [1, 0, 0];

const contactsOf = (places: readonly (readonly [at: Vec3, normal: Vec3])[]): Contacts => ({
  count: places.length,
  positions: Float64Array.from(places.flatMap(([at]) => at)),
  normals: Float64Array.from(places.flatMap(([, normal]) => normalize(normal))),
});

/** Contacts on a level circle whose normals lean outwards from the upright by an angle, degrees. */
const ringContacts = (radius: number, lean: number, count = 72): Contacts =>
  contactsOf(
    Array.from({ length: count }, (_, i) => {
      const [c, s] = [Math.cos((2 * Math.PI * i) / count), Math.sin((2 * Math.PI * i) / count)];
      const [out, up] = [Math.sin(radians(lean)), Math.cos(radians(lean))];
      return [
        [radius * c, radius * s, 0],
        [out * c, out * s, up],
      ];
    }),
  );

/**
 * Tip or slide angle of a ring of radius ρ whose contacts' normals all lean outwards from the upright by ψ (on a cone
 * 90° less half the apex angle, on a sphere the polar angle of the ring), its centre of mass h above the ring.
 *
 * Derivation. A virtual motion (u across, s up, ω about the level axis) moves the contact at azimuth φ, t = sin φ, by
 * (u, s + ωρt). Its part along the normal is linear in t, its size convex in t, and a friction cone is kept where
 * size ≤ (part along the normal)·√(1 + 1/µ²): so it is kept all round when it is kept at t = ±1. The ring is therefore
 * as firm as its two outermost points in the plane of the nod. There three forces balance (weight and two reactions),
 * so their lines meet in one point. When it gives way both reactions lie on the edge of their cones on the same
 * side: at angles ψ + λ and ψ − λ from the upright, tan λ = µ; or only one contact is left and carries all.
 */
function ringAngle(radius: number, lean: number, height: number, friction: number): number {
  const edges = degrees(Math.atan(friction));
  const lower = [lean + edges, lean - edges].map((angle): [number, number] => [
    Math.sin(radians(angle)),
    Math.cos(radians(angle)),
  ]);
  // Forces of the head at +ρ and −ρ; the set that both can give is the cone of four lines in (across, up, moment).
  const lines = [
    ...lower.map(([x, z]) => [x, z, radius * z + height * x]),
    ...lower.map(([x, z]) => [-x, z, -radius * z - height * x]),
  ];
  // Its walls stand on two lines each; gravity (sin a, −cos a, 0) is balanced by (−sin a, cos a, 0).
  let least = 90;
  for (let i = 0; i < 4; i++) {
    for (let j = i + 1; j < 4; j++) {
      const [a, b] = [lines[i], lines[j]];
      let wall = [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]];
      const sides = lines.map((line) => line[0] * wall[0] + line[1] * wall[1] + line[2] * wall[2]);
      if (sides.every((side) => side <= 1e-9)) wall = wall.map((value) => -value);
      else if (!sides.every((side) => side >= -1e-9)) continue;
      // wall · (−sin a, cos a, 0) ≥ 0
      if (wall[0] > 0) least = Math.min(least, degrees(Math.atan2(wall[1], wall[0])));
    }
  }
  return least;
}

describe("Balance", () => {
  it("lets a block slide at atan µ, and tip at atan(half width / height of the centre)", () => {
    // Coulomb's law of friction; statics of a block on an inclined plane (any textbook of mechanics).
    const block = contactsOf(
      [-30, 30].flatMap((x) =>
        [-20, 20].map((y): [Vec3, Vec3] => [
          [x, y, 0],
          [0, 0, 1],
        ]),
      ),
    );
    for (const friction of [0.1, 0.3, 0.6]) {
      const low = new Balance(block, [0, 0, 5], friction);
      expect(low.greatestAngle(down, forward)).toBeCloseTo(degrees(Math.atan(friction)), 1);
      expect(low.greatestAngle(down, normalize([1, 1, 0]))).toBeCloseTo(degrees(Math.atan(friction)), 1);
    }
    const tall = new Balance(block, [0, 0, 80], 0.6);
    expect(tall.greatestAngle(down, forward)).toBeCloseTo(degrees(Math.atan(20 / 80)), 1);
    expect(tall.greatestAngle(down, right)).toBeCloseTo(degrees(Math.atan(30 / 80)), 1);
    const aside = new Balance(block, [0, 21, 10], 0.6);
    expect(aside.greatestAngle(down, forward)).toBeUndefined();
    expect(aside.fall(down)?.power).toBeGreaterThan(0.01);
  });

  it("tips a stool on three legs over the line between two feet", () => {
    // Statics: the weight's line leaves the triangle of the feet; inner radius R/2 towards a side, R towards a foot.
    const feet = [0, 120, 240].map((azimuth): [Vec3, Vec3] => [
      [100 * Math.sin(radians(azimuth)), 100 * Math.cos(radians(azimuth)), 0],
      [0, 0, 1],
    ]);
    const stool = new Balance(contactsOf(feet), [0, 0, 120], 2);
    expect(stool.greatestAngle(down, scale(forward, -1))).toBeCloseTo(degrees(Math.atan(50 / 120)), 1);
    expect(stool.greatestAngle(down, forward)).toBeCloseTo(degrees(Math.atan(100 / 120)), 1);
  });

  it("holds a ring on a cone and on a sphere to the closed form", () => {
    for (const [radius, lean, height, friction] of [
      [80, 45, 0, 0.3],
      [80, 60, 0, 0.3],
      [80, 70, 20, 0.3],
      [80, 30, 40, 0.5],
      [80, 45, 120, 0.3],
      [60, 20, 90, 0.9],
      [85, 75, 10, 0.15],
    ] as const) {
      const ring = new Balance(ringContacts(radius, lean), [0, 0, height], friction);
      const expected = ringAngle(radius, lean, height, friction);
      expect(Math.abs((ring.greatestAngle(down, forward) ?? -1) - expected)).toBeLessThan(0.05);
    }
  });

  it("agrees with the two lines that meet: a ring on a sphere, its centre in its plane", () => {
    // The reactions' lines touch the circle of radius R sin λ round the sphere's centre and meet in P; the weight's
    // line goes from the ring's centre through P.
    const [sphere, polar, friction] = [100, 50, 0.3];
    const edge = Math.atan(friction);
    const [y, z] = [sphere * Math.sin(radians(polar)), sphere * Math.cos(radians(polar))];
    const [one, other] = [radians(polar) + edge, -radians(polar) + edge];
    // (y, z) + k (sin one, cos one) = (−y, z) + m (sin other, cos other), seen from the ring's centre
    const k =
      (-2 * y * Math.cos(other)) / (Math.sin(one) * Math.cos(other) - Math.cos(one) * Math.sin(other));
    const meeting = [y + k * Math.sin(one), k * Math.cos(one)];
    const expected = degrees(Math.atan(Math.abs(meeting[0] / meeting[1])));
    const ring = new Balance(ringContacts(y, polar), [0, 0, 0], friction);
    expect(ring.greatestAngle(down, forward)).toBeCloseTo(expected, 1);
    expect(ringAngle(y, polar, 0, friction)).toBeCloseTo(expected, 6);
    expect(z).toBeGreaterThan(0);
  });

  it("slides a block later that is held by a force along the slope, or in any direction", () => {
    // Along the slope: sin a = µ cos a + F/W. In any direction best at the friction angle: sin(a − λ) = F/W.
    const block = contactsOf(
      [-30, 30].flatMap((x) =>
        [-30, 30].map((y): [Vec3, Vec3] => [
          [x, y, 0],
          [0, 0, 1],
        ]),
      ),
    );
    const [friction, force] = [0.3, 0.25];
    const angle = Math.atan(friction);
    const free = new Balance(block, [0, 0, 1], friction);
    const along = free.with([{ kind: "pull", at: [0, 30, 1], along: [0, -1, 0], force }]);
    expect(along.greatestAngle(down, forward)).toBeCloseTo(
      degrees(angle + Math.asin(force * Math.cos(angle))),
      1,
    );
    const grip = free.with([{ kind: "grip", at: [0, 0, 1], force }]);
    expect(grip.greatestAngle(down, forward)).toBeCloseTo(degrees(angle + Math.asin(force)), 1);
    const against = free.with([{ kind: "pull", at: [0, 30, 1], along: [0, 1, 0], force }]);
    expect(against.greatestAngle(down, forward)).toBeCloseTo(degrees(angle), 1);
  });

  it("finds in a plane what a fine grid of forces finds", () => {
    // Two and three contacts in one plane: forces tried on a grid, the last one solved for; slow and obvious.
    const seed = 11;
    console.log(`balance in a plane: seed ${seed}`);
    const angle = fc.integer({ min: -60, max: 60 });
    const at = fc.integer({ min: 10, max: 100 });
    fc.assert(
      fc.property(
        at,
        at,
        angle,
        angle,
        fc.integer({ min: -20, max: 90 }),
        fc.constantFrom(0.15, 0.3, 0.6),
        (a, b, p, q, h, friction) => {
          const places: [Vec3, Vec3][] = [
            [
              [0, a, 0],
              [0, Math.sin(radians(p)), Math.cos(radians(p))],
            ],
            [
              [0, -b, 0],
              [0, Math.sin(radians(q)), Math.cos(radians(q))],
            ],
          ];
          const centre: Vec3 = [0, 0, h];
          const balance = new Balance(contactsOf(places), centre, friction);
          const found = balance.greatestAngle(down, forward);
          const slack = 2e-3;
          // `slack` widens the cones, radians: for the grid's own steps.
          const holds = (degreesOver: number, slack: number): boolean => {
            const half = Math.atan(friction) + slack;
            const pull = turnedGravity(down, forward, degreesOver);
            // The first contact's force in each direction of its cone; the moment about the second says how large.
            for (let k = -400; k <= 400; k++) {
              const one = radians(p) + (half * k) / 400;
              const force: Vec3 = [0, Math.sin(one), Math.cos(one)];
              const lever = cross(subtract(places[0][0], places[1][0]), force)[0];
              const weight = cross(subtract(centre, places[1][0]), pull)[0];
              const size = -weight / lever;
              if (!(size >= 0)) continue;
              const rest = scale(add(scale(force, size), pull), -1);
              const lean = Math.atan2(rest[1], rest[2]) - radians(q);
              if (Math.abs(lean) <= half) return true;
            }
            return false;
          };
          if (found === undefined) expect(holds(0, -slack)).toBe(false);
          else {
            if (found > 0.5) expect(holds(found - 0.5, slack)).toBe(true);
            if (found < 89.5) expect(holds(found + 0.5, -slack)).toBe(false);
          }
        },
      ),
      { seed, numRuns: 300 },
    );
  });

  it("finds in space what forces found one by one find", () => {
    // Forces of 48-sided pyramids that come as near to the weight's balance as they can: least squares by coordinates.
    const seed = 23;
    console.log(`balance in space: seed ${seed}`);
    const unit = fc.tuple(
      fc.integer({ min: -60, max: 60 }),
      fc.integer({ min: -60, max: 60 }),
      fc.constant(100),
    );
    const place = fc.tuple(
      fc.tuple(
        fc.integer({ min: -90, max: 90 }),
        fc.integer({ min: -90, max: 90 }),
        fc.integer({ min: -10, max: 10 }),
      ),
      unit,
    );
    let decided = 0;
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 3, maxLength: 6 }),
        fc.integer({ min: 10, max: 90 }),
        (places, h) => {
          const contacts = contactsOf(places as [Vec3, Vec3][]);
          const centre: Vec3 = [0, 0, h];
          const found = new Balance(contacts, centre, 0.4).greatestAngle(down, forward);
          if (found === undefined || found < 2 || found > 88) return;
          decided++;
          expect(lacking(contacts, centre, 0.4, turnedGravity(down, forward, found - 1))).toBeLessThan(2e-3);
          expect(lacking(contacts, centre, 0.4, turnedGravity(down, forward, found + 1))).toBeGreaterThan(
            2e-3,
          );
        },
      ),
      { seed, numRuns: 60 },
    );
    expect(decided).toBeGreaterThan(15);
  });

  it("bounds what contacts press with: a block between two walls", () => {
    // Coulomb: two walls that press with N each hold 2µN upright; bounded to k times the weight together, kµ of it.
    const walls = contactsOf(
      [-1, 1].flatMap((side) =>
        [-20, 20].flatMap((y) =>
          [-20, 20].map((z): [Vec3, Vec3] => [
            [30 * side, y, z],
            [-side, 0, 0],
          ]),
        ),
      ),
    );
    const free = new Balance(walls, [0, 0, 0], 0.4);
    expect(free.fall(down)).toBeUndefined();
    expect(free.squeezed(2.6).fall(down)).toBeUndefined();
    expect(free.squeezed(2.4).fall(down)?.power).toBeGreaterThan(0);
    expect(free.leastSqueeze(down)).toBeCloseTo(1 / 0.4, 2);
  });

  it("presses least where friction helps most: a ring on a cone", () => {
    // All round at the edge of the cone: N (cos ψ + µ sin ψ) = weight.
    for (const [lean, friction] of [
      [40, 0.1],
      [60, 0.3],
      [80, 0.3],
    ] as const) {
      const ring = new Balance(ringContacts(80, lean), [0, 0, 0], friction);
      const expected = 1 / (Math.cos(radians(lean)) + friction * Math.sin(radians(lean)));
      expect((ring.leastSqueeze(down) ?? 0) / expected).toBeCloseTo(1, 2);
    }
    const aside = new Balance(ringContacts(80, 40), [90, 0, 0], 0.1);
    expect(aside.leastSqueeze(down)).toBeUndefined();
  });

  it("finds how much of a helper is enough", () => {
    // A block at the angle a: along the slope F/W = sin a − µ cos a; in any direction sin(a − λ).
    const block = contactsOf(
      [-30, 30].flatMap((x) =>
        [-30, 30].map((y): [Vec3, Vec3] => [
          [x, y, 0],
          [0, 0, 1],
        ]),
      ),
    );
    const free = new Balance(block, [0, 0, 1], 0.3);
    const pull = turnedGravity(down, forward, 30);
    const [a, friction] = [radians(30), 0.3];
    const along = free.with([{ kind: "pull", at: [0, 30, 1], along: [0, -1, 0], force: 0.5 }]);
    const needed = Math.sin(a) - friction * Math.cos(a);
    expect(Math.abs((0.5 * (along.enoughOf(pull) ?? 0)) / needed - 1)).toBeLessThan(0.05);
    const grip = free.with([{ kind: "grip", at: [0, 0, 1], force: 0.5 }]);
    expect(Math.abs((0.5 * (grip.enoughOf(pull) ?? 0)) / Math.sin(a - Math.atan(friction)) - 1)).toBeLessThan(
      0.05,
    );
    expect(free.with([{ kind: "grip", at: [0, 0, 1], force: 0.1 }]).enoughOf(pull)).toBeUndefined();
  });

  it("gives an answer without any contact, and with one", () => {
    expect(new Balance(contactsOf([]), [0, 0, 0], 0.3).greatestAngle(down, forward)).toBeUndefined();
    const one = contactsOf([
      [
        [0, 0, 0],
        [0, 0, 1],
      ],
    ]);
    expect(new Balance(one, [0, 0, 10], 0.3).greatestAngle(down, forward)).toBeCloseTo(0, 2);
    expect(new Balance(one, [0, 0, 0], 0.3).greatestAngle(down, forward)).toBeCloseTo(
      degrees(Math.atan(0.3)),
      1,
    );
  });
});

/** How much of the weight's force and moment the contacts cannot balance, as a share of the weight. */
function lacking(contacts: Contacts, centre: Vec3, friction: number, pull: Vec3): number {
  const columns: number[][] = [];
  for (let i = 0; i < contacts.count; i++) {
    const at = [...contacts.positions.slice(3 * i, 3 * i + 3)] as unknown as Vec3;
    const normal = [...contacts.normals.slice(3 * i, 3 * i + 3)] as unknown as Vec3;
    const across = normalize(cross(normal, [1, 0, 0]));
    const other = cross(normal, across);
    for (let k = 0; k < 48; k++) {
      const angle = (2 * Math.PI * k) / 48;
      const force = add(
        normal,
        add(scale(across, friction * Math.cos(angle)), scale(other, friction * Math.sin(angle))),
      );
      const moment = scale(cross(subtract(at, centre), force), 1 / 80);
      const column = [...force, ...moment];
      const size = Math.hypot(...column);
      columns.push(column.map((value) => value / size));
    }
  }
  const rest = [...pull, 0, 0, 0];
  const sizes = new Float64Array(columns.length);
  for (let sweep = 0; sweep < 20_000; sweep++) {
    let change = 0;
    columns.forEach((column, j) => {
      let step = 0;
      for (let axis = 0; axis < 6; axis++) step -= column[axis] * rest[axis];
      const next = Math.max(0, sizes[j] + step);
      const by = next - sizes[j];
      if (by === 0) return;
      sizes[j] = next;
      for (let axis = 0; axis < 6; axis++) rest[axis] += by * column[axis];
      change = Math.max(change, Math.abs(by));
    });
    if (change < 1e-7) break;
  }
  return Math.hypot(...rest);
}
