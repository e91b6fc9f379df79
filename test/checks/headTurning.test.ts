import { describe, expect, it } from "vitest";
import { type HeadMotion, type HeadTurning, headTurning, normalRange } from "../../src/checks/headTurning";
import { type BodyBelow, bodyBelow, distanceToCapsules } from "../../src/checks/view/bodyBelow";
import { freeAngle, type Turning, turnedPoint } from "../../src/checks/view/freeAngle";
import { WornPiece } from "../../src/checks/wornPiece";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { degrees, radians, type Vec3 } from "../../src/geometry/vector";
import { limitsOf } from "../../src/wearLimits";
import { box, moved } from "./shapes";
import { formOf, headOf, partOf, pieceOf } from "./wornBodies";

const limits = limitsOf();
const head = headOf();
const { joint } = bodyBelow(head.measurements);

/** A body of one ball. */
const ballAt = (at: Vec3, radius: number): BodyBelow => ({
  joint,
  capsules: [{ name: "neck", from: at, to: at, radius }],
});

const roomOf = (found: HeadTurning, motion: HeadMotion) =>
  found.motions.find((room) => room.motion === motion)!;

/** A thin upright rod through a point, from `low` to `high`. */
const upright = ([x, y]: readonly number[], low: number, high: number): TriangleMesh =>
  box([x - 0.05, y - 0.05, low], [x + 0.05, y + 0.05, high]);

describe("a rod that swings into a ball", () => {
  // Rod and ball as far from the axis, R, the ball's radius r: the chord 2R sin(γ/2) = r between them when they meet.
  const chordAngle = (radius: number, reach: number) => degrees(2 * Math.asin(radius / (2 * reach)));
  const reach = 130;

  it("turning: an upright rod, at the angle less that of the chord", () => {
    for (const [motion, sign] of [
      ["turnRight", -1],
      ["turnLeft", 1],
    ] as const) {
      for (const [apart, radius] of [
        [60, 40],
        [75, 20],
        [50, 55],
      ]) {
        const angle = radians(90 + sign * apart);
        const ball = ballAt(
          [joint[0] + reach * Math.cos(angle), joint[1] + reach * Math.sin(angle), -150],
          radius,
        );
        const found = headTurning(
          pieceOf(upright([joint[0], joint[1] + reach], -200, 60)),
          head,
          limits,
          ball,
        );
        const room = roomOf(found, motion);
        expect(Math.abs(room.free - (apart - chordAngle(radius, reach)))).toBeLessThan(0.5);
        expect(room).toMatchObject({ part: "part 1", meets: "neck", range: 80 });
        // The other way it is farther than the range.
        const other = roomOf(found, motion === "turnLeft" ? "turnRight" : "turnLeft");
        expect(other.free).toBe(normalRange.turnLeft);
        expect(other.part).toBeUndefined();
      }
    }
  });

  it("nodding, leaning and tilting: a level rod across the swing", () => {
    // From the joint the rod stands in a direction of the swing's plane, the ball farther round.
    const cases: readonly (readonly [HeadMotion, 0 | 1, number, number, number])[] = [
      // The plane's angle of the rod, from the side (+X or +Y) towards up; how far the ball is from it; its radius.
      ["nodForward", 1, -20, -40, 30],
      ["leanBack", 1, 200, 45, 30],
      ["tiltRight", 0, -25, -35, 25],
      ["tiltLeft", 0, 205, 35, 25],
    ];
    for (const [motion, axis, from, apart, radius] of cases) {
      const place = (angle: number): Vec3 => {
        const at: [number, number, number] = [...joint];
        at[axis] += reach * Math.cos(radians(angle));
        at[2] += reach * Math.sin(radians(angle));
        return at;
      };
      const rod = place(from);
      const half: Vec3 = axis === 1 ? [30, 0.05, 0.05] : [0.05, 30, 0.05];
      const mesh = box(
        rod.map((value, i) => value - half[i]) as unknown as Vec3,
        rod.map((value, i) => value + half[i]) as unknown as Vec3,
      );
      const found = headTurning(pieceOf(mesh), head, limits, ballAt(place(from + apart), radius));
      const expected = Math.abs(apart) - chordAngle(radius, reach);
      expect({ motion, isNear: Math.abs(roomOf(found, motion).free - expected) < 1 }).toEqual({
        motion,
        isNear: true,
      });
    }
  });

  it("agrees with small steps, for random points and bodies", () => {
    const seed = 7;
    let state = seed;
    const random = () => {
      state = (state * 48271) % 2147483647;
      return state / 2147483647;
    };
    const between = (least: number, most: number) => least + (most - least) * random();
    let met = 0;
    for (let k = 0; k < 60; k++) {
      const points = Array.from({ length: 60 }, () => between(-200, 200));
      const capsules = Array.from({ length: 3 }, () => ({
        name: "neck" as const,
        from: [between(-200, 200), between(-200, 200), between(-200, 200)] as Vec3,
        to: [between(-200, 200), between(-200, 200), between(-200, 200)] as Vec3,
        radius: between(5, 50),
      }));
      const body = distanceToCapsules(capsules);
      const turning: Turning = {
        about: [between(-50, 50), between(-50, 50), between(-50, 50)],
        axis: (k % 3) as 0 | 1 | 2,
        sign: random() < 0.5 ? 1 : -1,
        most: 80,
      };
      const outside = Array.from({ length: 20 }, (_, i) => i).filter(
        (i) => body(points[3 * i], points[3 * i + 1], points[3 * i + 2]) > 1,
      );
      const found = freeAngle(points, outside, new Float64Array(outside.length), turning, body);
      let expected = 80;
      for (const i of outside) {
        const point: Vec3 = [points[3 * i], points[3 * i + 1], points[3 * i + 2]];
        for (let angle = 0; angle < expected; angle += 0.05) {
          if (body(...turnedPoint(point, turning, angle)) < 0) expected = angle;
        }
      }
      if (expected < 80) met++;
      expect({ seed, k, near: Math.abs(found.angle - expected) < 0.3 }).toEqual({ seed, k, near: true });
    }
    expect(met).toBeGreaterThan(20);
  });
});

describe("the body below", () => {
  it("has the wearer's neck, and shoulders where adults have them", () => {
    const body = bodyBelow(head.measurements);
    const neck = body.capsules.find(({ name }) => name === "neck")!;
    expect(2 * Math.PI * neck.radius).toBeCloseTo(head.measurements.neckGirth!, 6);
    const distance = distanceToCapsules(body.capsules);
    // From memory, means of adults: top of the shoulder's end some 180 mm below the tragions, 195 mm to the side.
    let top = 0;
    while (distance(177, -40, top) > 0) top -= 1;
    expect(top).toBeGreaterThan(-200);
    expect(top).toBeLessThan(-160);
    let side = 0;
    while (distance(side, -40, -228) < 0) side += 1;
    expect(side).toBeGreaterThan(205);
    expect(side).toBeLessThan(245);
    // From memory: the joint lies 11 mm behind and 26 mm below the tragions.
    expect(Math.abs(body.joint[1] + 11)).toBeLessThan(1);
    expect(Math.abs(body.joint[2] + 26)).toBeLessThan(2);
    expect(body.joint[0]).toBe(0);
  });

  it("distance to a capsule: beside it, beyond its end, within", () => {
    const distance = distanceToCapsules([{ name: "neck", from: [0, 0, 0], to: [0, 0, 100], radius: 10 }]);
    expect(distance(25, 0, 40)).toBeCloseTo(15, 12);
    expect(distance(3, 0, 104)).toBeCloseTo(-5, 12);
    expect(distance(30, 0, 140)).toBeCloseTo(40, 12);
    expect(distance(0, 4, 50)).toBeCloseTo(-6, 12);
    const ball = distanceToCapsules([{ name: "neck", from: [1, 2, 3], to: [1, 2, 3], radius: 4 }]);
    expect(ball(1, 2, 13)).toBeCloseTo(6, 12);
  });
});

const told = ({ findings }: HeadTurning): string[] => findings.map(({ id, severity }) => `${severity} ${id}`);

describe("findings, each with a twin that has none", () => {
  const named = (mesh: TriangleMesh) => pieceOf(mesh, { parts: [partOf("kelp strand", 31, mesh)] });
  /** A strand that hangs before the right shoulder. */
  const strand = (low: number) => named(box([112, 55, low], [118, 61, 80]));

  it("a strand that the turned head carries into the shoulder", () => {
    const found = headTurning(strand(-230), head, limits);
    const finding = found.findings.find(({ text }) => text.includes("turns to the right"))!;
    expect(finding).toMatchObject({
      id: "turn-room",
      check: "sight",
      severity: "warning",
      part: "kelp strand",
      line: 31,
      unit: "°",
      limit: { name: "turnRoom", value: 45 },
    });
    expect(finding.text).toMatch(
      /"kelp strand" meets the (right shoulder|chest and back) where the head turns/,
    );
    expect(finding.value).toBeGreaterThan(0);
    expect(finding.value).toBeLessThan(45);
    expect(finding.at![2]).toBeLessThan(-130);
    expect(told(headTurning(strand(-110), head, limits))).toEqual([]);
  });

  it("shortened as each finding says, it is free", () => {
    const found = headTurning(strand(-230), head, limits);
    expect(found.findings.length).toBeGreaterThan(0);
    const cuts = found.findings.map(({ suggestion }) =>
      Number(/shorten it by (\d+) mm/.exec(suggestion!)![1]),
    );
    // Samples stand 4 mm apart: so much may be left out.
    expect(told(headTurning(strand(-230 + Math.max(...cuts) + 4), head, limits))).toEqual([]);
    for (const [i, { value }] of found.findings.entries()) {
      expect(cuts[i], `cut for ${value}°`).toBeGreaterThan(1);
      expect(cuts[i]).toBeLessThan(150);
    }
  });

  it("a tail at the back that keeps the head from leaning back", () => {
    const tail = (low: number) => named(box([-4, -112, low], [4, -106, 100]));
    const found = headTurning(tail(-150), head, limits);
    expect(told(found)).toContain("warning nod-room");
    const finding = found.findings.find(({ id }) => id === "nod-room")!;
    expect(finding.text).toContain("leans back");
    expect(finding.limit?.name).toBe("nodRoom");
    expect(told(headTurning(tail(-10), head, limits))).toEqual([]);
    // A limit that the design sets turns it into its twin.
    const own = limitsOf({ design: { nodRoom: 0, turnRoom: 0 } });
    expect(told(headTurning(tail(-150), head, own))).toEqual([]);
  });

  it("what hangs into the shoulder at rest leaves no room; what lies on the neck does", () => {
    const deep = headTurning(named(box([140, -50, -220], [150, -30, 50])), head, limits);
    expect(roomOf(deep, "turnLeft").free).toBe(0);
    expect(deep.findings[0].text).toContain("hangs into the right shoulder while the head is held upright");
    const neck = bodyBelow(head.measurements).capsules[0];
    const bead = moved(box([-2, -2, -2], [2, 2, 2]), [neck.radius + 3, -20, -125]);
    const near = headTurning(named(bead), head, limits);
    expect(roomOf(near, "turnRight").free).toBeGreaterThan(45);
  });

  it("a piece on the head alone meets nothing in the whole range", () => {
    const found = headTurning(named(box([-90, -110, 20], [90, 110, 160])), head, limits);
    expect(found.findings).toEqual([]);
    for (const { motion, free, range, at } of found.motions) {
      expect(free).toBe(normalRange[motion]);
      expect(range).toBe(normalRange[motion]);
      expect(at).toBeUndefined();
    }
  });
});

describe("odd input", () => {
  it("gives plain data, whatever the piece and the head", () => {
    const nothing = new WornPiece({
      ...pieceOf(box([0, 0, 0], [1, 1, 1])),
      mesh: { positions: new Float32Array(), triangles: new Uint32Array(), partOfTriangle: new Int32Array() },
      parts: [],
    });
    const pieces = [
      nothing,
      pieceOf(box([140, -50, -220], [150, -30, 50]), { parts: [] }),
      pieceOf(box([1e6, 1e6, 1e6], [1e6 + 1, 1e6 + 1, 1e6 + 1])),
      pieceOf(moved(box([0, 0, 0], [1e-4, 1e-4, 1e-4]), joint)),
      pieceOf([box([-300, -300, -300], [300, 300, 300])]),
    ];
    const child = headOf(undefined, {}, formOf({ girth: 480 }));
    for (const own of [head, child]) {
      for (const piece of pieces) {
        const found = headTurning(piece, own, limits);
        expect(structuredClone(found)).toEqual(found);
        expect(JSON.parse(JSON.stringify(found))).toEqual(found);
      }
    }
  });
});
