import { describe, expect, it } from "vitest";
import { judgePassage } from "../../../src/checks/passage/passageJudge";
import {
  alongMotion,
  edgeHinge,
  type Motion,
  placeAlong,
  slideTowards,
} from "../../../src/checks/passage/passageMotion";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { SignedDistance } from "../../../src/geometry/signedDistance";
import { surfaceSamples } from "../../../src/geometry/surfaceSamples";
import {
  addScaled,
  anyPerpendicular,
  cross,
  rotateAbout,
  subtract,
  type Vec3,
} from "../../../src/geometry/vector";
import { ellipsoid, turned } from "../shapes";
import { formOf } from "../wornBodies";
import { bow, bowHead, bowRing, capOf, ellipseTube, extent } from "./passageBodies";

const up = slideTowards(0, 0);
const judged = (piece: TriangleMesh, head: TriangleMesh, motion: Motion) =>
  judgePassage(surfaceSamples(piece, 4).positions, () => 0, head, motion);

/** Mulberry32, so that a seed gives the same bodies everywhere. */
function randomOf(seed: number): (from: number, to: number) => number {
  let state = seed;
  return (from, to) => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return from + ((to - from) * ((t ^ (t >>> 14)) >>> 0)) / 2 ** 32;
  };
}

describe("coordinates along a motion", () => {
  const motions: Motion[] = [
    slideTowards(35, 120),
    edgeHinge("front", 90, 20, 1),
    edgeHinge("back", -90, 10, 1),
  ];
  it.each(motions.map((motion) => [motion.kind, motion] as const))(
    "of a %s lead back to the place",
    (_, motion) => {
      for (const point of [
        [10, 20, 30],
        [-40, 5, -60],
        [3, -80, 90],
      ] as Vec3[]) {
        const [u, v, w] = alongMotion(point, motion, new Float32Array(3));
        const back = placeAlong(motion, u, v, w);
        for (let axis = 0; axis < 3; axis++) expect(back[axis]).toBeCloseTo(point[axis], 3);
      }
    },
  );

  it("grow in w alone while the motion runs, on the way that lifts the other edge", () => {
    const hinge = edgeHinge("front", 90, 20, 1);
    const point: Vec3 = [12, -70, 25];
    const later = addScaled(rotateAbout(subtract(point, hinge.origin), hinge.axis, 0.3), hinge.origin, 1);
    expect(later[2]).toBeGreaterThan(point[2] + 30);
    const before = alongMotion(point, hinge, new Float32Array(3));
    const after = alongMotion(later, hinge, new Float32Array(3));
    expect([after[0], after[1]]).toEqual([expect.closeTo(before[0], 3), expect.closeTo(before[1], 3)]);
    expect(after[2] - before[2]).toBeCloseTo(0.3, 5);
  });
});

describe("how much a passage is too small", () => {
  // Closed form: past the equator of a sphere of radius R, the edge of a cap at the polar angle θ has the radius R sin θ
  // and must pass R: it lacks R(1 − sin θ).
  const R = 90;
  const sphere = ellipsoid(R, R, R, 150, 240);
  it.each([105, 110, 115, 120])("is R(1 − sin θ) for a cap on a sphere to θ = %d°, within 1 %", (theta) => {
    const expected = R * (1 - Math.sin((theta * Math.PI) / 180));
    const { clearance, stopped } = judged(capOf(R, theta), sphere, up);
    expect(-clearance / expected).toBeGreaterThan(0.99);
    expect(-clearance / expected).toBeLessThan(1.01);
    expect(stopped).toEqual([{ part: 0, lacking: -clearance }]);
  });

  it.each([60, 80, 90])("is nothing for a cap on a sphere to θ = %d°", (theta) => {
    expect(judged(capOf(R + 0.02, theta), sphere, up).clearance).toBeGreaterThanOrEqual(0);
  });

  // Closed form: a ring slides off a cone at once where that narrows upwards; where it widens, the ring must pass its
  // widest place.
  const cone = (below: number, above: number) =>
    turned(
      [
        [0, -50],
        [below, -50],
        [above, 50],
        [0, 50],
      ],
      240,
    );
  const ring = (radius: number) => ellipseTube([radius + 3, radius + 3], [0, 0, 0], 3);
  it("is nothing for a ring on a cone, with the room that the ring has at its seat", () => {
    const { clearance } = judged(ring(72), cone(80, 60), up);
    // The inner line of the ring has 2 mm; 4 mm samples and 12 sides of the section lie on it.
    expect(clearance).toBeCloseTo(2, 1);
  });
  it("is the difference of the radii for a ring under a widening cone", () => {
    expect(judged(ring(72), cone(60, 80), up).clearance).toBeCloseTo(-8, 1);
  });

  // Closed form: turned about the axis of the bow's own bend, a ring square to the bow must pass its swell.
  const hinge = edgeHinge("front", bow.y, bow.z, 2);
  it("is that of the swell for a ring that turns off a bow", () => {
    expect(judged(bowRing(42), bowHead(40, 45), hinge).clearance).toBeCloseTo(-3, 1);
    expect(judged(bowRing(42), bowHead(40, 41), hinge).clearance).toBeCloseTo(1, 1);
  });
  it("lets no straight slide off the bow", () => {
    expect(judged(bowRing(42), bowHead(40, 41), up).clearance).toBeLessThan(-3);
  });

  it("stops a hinge whose axis runs through the head", () => {
    expect(judged(capOf(R + 1, 60), sphere, edgeHinge("front", 40, 0, 2.5)).clearance).toBeLessThan(-5);
  });
});

describe("against steps of half a millimetre", () => {
  // Independent of maps: each sample is moved step by step and asked its distance to the head's mesh.
  const head = formOf().mesh();
  const distance = new SignedDistance(head);
  const seed = 20_417;
  console.log(`passage: random pieces of seed ${seed}`);
  const random = randomOf(seed);

  function randomPiece(): TriangleMesh {
    const z = random(0, 70);
    const { left, right, back, front } = extent(head, z, 4);
    const play = random(0.5, 9);
    const axes = [(right - left) / 2 + play + 3, (front - back) / 2 + play + 3] as const;
    const kind = random(0, 3);
    const arc: [number, number] =
      kind < 1 ? [0, 360] : kind < 2 ? [-110, 110] : [random(0, 120), random(240, 350)];
    return ellipseTube(axes, [0, (front + back) / 2, z], 3, arc);
  }

  function randomMotion(): Motion {
    if (random(0, 1) < 0.6) return slideTowards(random(0, 100), random(-180, 180));
    const edge = random(0, 1) < 0.5 ? "front" : "back";
    const y = edge === "front" ? random(110, 180) : random(-180, -105);
    return edgeHinge(edge, y, random(0, 80), 1.4);
  }

  /** Whether the head meets a point on its way. What is d from the head cannot meet it within d: longer steps do. */
  function meets(start: Vec3, motion: Motion): boolean {
    const isSlide = motion.kind === "slide";
    const radius = isSlide ? 1 : Math.hypot(start[1] - motion.origin[1], start[2] - motion.origin[2]);
    const length = isSlide ? 400 : motion.turn * radius;
    for (let along = 0; along <= length; ) {
      const [x, y, z] = isSlide
        ? addScaled(start, motion.direction, along)
        : addScaled(
            motion.origin,
            rotateAbout(subtract(start, motion.origin), motion.axis, along / radius),
            1,
          );
      const away = distance.at(x, y, z);
      if (away < 0) return true;
      along += Math.max(0.5, 0.99 * away);
    }
    return false;
  }

  it("the same pieces pass", () => {
    let told = 0;
    let passing = 0;
    for (let k = 0; k < 40; k++) {
      const { positions } = surfaceSamples(randomPiece(), 4);
      const motion = randomMotion();
      const { clearance } = judgePassage(positions, () => 0, head, motion);
      // Steps of half a millimetre cannot tell what the head takes or leaves by less.
      if (Math.abs(clearance) < 0.3) continue;
      let isStopped = false;
      for (let i = 0; i < positions.length && !isStopped; i += 3) {
        isStopped = meets([positions[i], positions[i + 1], positions[i + 2]], motion);
      }
      expect([k, clearance < 0, clearance]).toEqual([k, isStopped, clearance]);
      told++;
      if (!isStopped) passing++;
    }
    expect(told).toBeGreaterThan(30);
    expect(passing).toBeGreaterThan(5);
    expect(told - passing).toBeGreaterThan(5);
  });

  it("what lacks is the way across to where no ray meets the head", () => {
    let asked = 0;
    for (let k = 0; k < 30; k++) {
      const { positions } = surfaceSamples(randomPiece(), 4);
      const motion = slideTowards(random(0, 60), random(-180, 180));
      const { clearance, sample } = judgePassage(positions, () => 0, head, motion);
      if (clearance > -0.5 || motion.kind !== "slide") continue;
      const d = motion.direction;
      const e = anyPerpendicular(d);
      const f = cross(d, e);
      const at: Vec3 = [positions[3 * sample], positions[3 * sample + 1], positions[3 * sample + 2]];
      let nearest = Infinity;
      for (let angle = 0; angle < 2 * Math.PI; angle += Math.PI / 90) {
        for (let out = 0; out < Math.min(nearest, 60); out += 0.05) {
          const [x, y, z] = addScaled(addScaled(at, e, out * Math.cos(angle)), f, out * Math.sin(angle));
          if (distance.tree.meets(x, y, z, d[0], d[1], d[2])) continue;
          nearest = out;
        }
      }
      expect(Math.abs(nearest + clearance)).toBeLessThan(0.12);
      asked++;
    }
    expect(asked).toBeGreaterThan(8);
  });
});
