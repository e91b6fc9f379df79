import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { Pose } from "../../../src/checks/balance/pose";
import { seat } from "../../../src/checks/balance/seat";
import { SignedDistance } from "../../../src/geometry/signedDistance";
import { degrees, radians, type Vec3 } from "../../../src/geometry/vector";
import { ellipsoid, moved, torus, turned } from "../shapes";

/** The gaps that a piece's points have where they are designed. */
const gapsOf = (points: Float32Array, head: SignedDistance): Float32Array =>
  Float32Array.from({ length: points.length / 3 }, (_, i) =>
    head.at(points[3 * i], points[3 * i + 1], points[3 * i + 2]),
  );

const leastGap = (points: Float32Array, pose: Pose, head: SignedDistance): number => {
  let least = Infinity;
  for (let i = 0; i < points.length; i += 3) {
    least = Math.min(least, head.at(...pose.moved(points[i], points[i + 1], points[i + 2])));
  }
  return least;
};

describe("Pose", () => {
  it("turns about its point, and joins turns as matrices do", () => {
    const quarter = Pose.still([1, 2, 3]).followedBy([0, 0, 5], [0, 0, Math.PI / 2]);
    quarter.moved(2, 2, 3).forEach((value, axis) => {
      expect(value).toBeCloseTo([1, 3, 8][axis], 9);
    });
    // Euler's rotation theorem: a quarter about z and then one about x is a third of a turn about (1, 1, 1) (or its like).
    const both = quarter.followedBy([0, 0, 0], [Math.PI / 2, 0, 0]);
    expect(Math.hypot(...both.turn)).toBeCloseTo(120, 6);
    both.moved(1, 3, 3).forEach((value, axis) => {
      expect(value).toBeCloseTo([0, 2, 8][axis], 9);
    });
  });
});

describe("seat", () => {
  const ball = new SignedDistance(ellipsoid(90, 90, 90, 90, 180));

  it("lets a ring down on a ball to where it touches", () => {
    // A tube of radius r, bent to a ring of radius R, touches a ball of radius 90 with its middle √((90 + r)² − R²) up.
    const [R, r] = [70, 6];
    const height = Math.sqrt((90 + r) ** 2 - R ** 2);
    const ring = moved(torus(R, r, 144, 48), [0, 0, height + 4]).positions;
    const found = seat(ring, gapsOf(ring, ball), ball, [0, 0, height + 4], 0.3);
    expect(found.rests).toBe(true);
    expect(Math.abs(found.pose.shift[2] + 4)).toBeLessThan(0.1);
    expect(Math.hypot(found.pose.shift[0], found.pose.shift[1])).toBeLessThan(0.2);
    expect(Math.hypot(...found.pose.turn)).toBeLessThan(0.3);
    expect(found.travel).toBeCloseTo(4, 0);
  });

  it("lets a ring down on a cone to where it touches", () => {
    // The cone's side rises by 1 for 0.5 across: a ring x too wide comes down by 2x.
    const cone = new SignedDistance(
      turned(
        [
          [0, 0],
          [100, 0],
          [0, 200],
        ],
        360,
      ),
    );
    const slope = Math.atan2(1, 2);
    // Where the tube touches, its radius stands upright to the side.
    const height = 200 - 2 * (60 - 5 / Math.cos(slope));
    const ring = moved(torus(60, 5, 180, 72), [0, 0, height + 6]).positions;
    const found = seat(ring, gapsOf(ring, cone), cone, [0, 0, height + 6], 0.3);
    expect(found.rests).toBe(true);
    expect(Math.abs(found.pose.shift[2] + 6)).toBeLessThan(0.15);
  });

  it("swings a hanging piece until its centre is under the middle, less the friction", () => {
    // Equilibrium without friction: normals of a ball all go through its middle, so the weight's line must too.
    const cap = Float32Array.from(
      [0, 60, 120, 180, 240, 300].flatMap((azimuth) => {
        const [c, s] = [Math.cos(radians(azimuth)), Math.sin(radians(azimuth))];
        return [45 * c, 45 * s, Math.sqrt(90 ** 2 - 45 ** 2) + 0.5];
      }),
    );
    const centre: Vec3 = [5, -3, -60];
    const found = seat(cap, gapsOf(cap, ball), ball, centre, 0.02);
    expect(found.rests).toBe(true);
    const swung = found.pose.moved(...centre);
    // Friction holds a moment of µ · weight · radius; along each axis on its own, hence √2.
    expect(Math.hypot(swung[0], swung[1])).toBeLessThan(Math.SQRT2 * 0.02 * 90);
    expect(Math.hypot(...found.pose.turn)).toBeGreaterThan(degrees(Math.atan(5.8 / 60)) - 2.5);
    // Rough enough it stays: friction 0.5 holds a moment of µ · weight · radius, ten times what pulls.
    const rough = seat(cap, gapsOf(cap, ball), ball, centre, 0.5);
    expect(Math.hypot(...rough.pose.turn)).toBeLessThan(1.5);
  });

  it("slides off where nothing holds it, and says so", () => {
    const plate = Float32Array.from([60, 0, 68, 62, 5, 66, 62, -5, 66, 64, 0, 64]);
    const found = seat(plate, gapsOf(plate, ball), ball, [66, 0, 70], 0.05);
    expect(found.rests).toBe(false);
    const far = Float32Array.from([500, 0, 0, 505, 0, 0, 500, 5, 0]);
    expect(seat(far, gapsOf(far, ball), ball, [500, 0, 0], 0.3).rests).toBe(false);
    expect(seat(new Float32Array(), new Float32Array(), ball, [0, 0, 0], 0.3).travel).toBe(0);
  });

  it("comes at least as low as straight down, and enters nothing: against trial of heights", () => {
    const seed = 31;
    console.log(`seat: seed ${seed}`);
    fc.assert(
      fc.property(
        fc.integer({ min: 60, max: 85 }),
        fc.integer({ min: 80, max: 110 }),
        fc.integer({ min: 60, max: 100 }),
        fc.integer({ min: -6, max: 6 }),
        fc.integer({ min: -6, max: 6 }),
        (a, b, c, x, y) => {
          const head = new SignedDistance(ellipsoid(a, b, c, 60, 120));
          // A wide oval ring above the head, a little aside.
          const ring = moved(torus(1, 0.06, 90, 24), [x, y, 0], [0.9 * a, 0.9 * b, 80]).positions;
          const drop = (down: number) =>
            leastGap(ring, Pose.still([x, y, 0]).followedBy([0, 0, -down], [0, 0, 0]), head);
          // The lowest height without touching, from above; then the piece begins 3 mm above that.
          let [over, under] = [-2 * c, 0];
          for (let k = 0; k < 25; k++) {
            const middle = (over + under) / 2;
            if (drop(middle) > 0) over = middle;
            else under = middle;
          }
          const start = moved({ positions: ring, triangles: new Uint32Array() }, [0, 0, 3 - over]).positions;
          const found = seat(start, gapsOf(start, head), head, [x, y, 3 - over], 0.3);
          expect(found.pose.shift[2]).toBeLessThan(-3 + 0.1);
          expect(leastGap(start, found.pose, head)).toBeGreaterThan(-0.15);
        },
      ),
      { seed, numRuns: 10 },
    );
  });

  it("pushes out what is in the head", () => {
    const height = Math.sqrt(96 ** 2 - 70 ** 2);
    const ring = moved(torus(70, 6, 144, 48), [0, 0, height - 2]).positions;
    const found = seat(ring, gapsOf(ring, ball), ball, [0, 0, height - 2], 0.3);
    expect(found.rests).toBe(true);
    expect(Math.abs(found.pose.shift[2] - 2)).toBeLessThan(0.15);
  });
});
