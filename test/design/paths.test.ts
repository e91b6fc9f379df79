import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { helix, Path, pulledBy, spiralAround, straight, through, tube } from "../../src/design";
import type { Vec3 } from "../../src/geometry/vector";
import { errorInMake, inMake, near } from "./rig";

const corner = fc.double({ min: -150, max: 150, noNaN: true });
/** Points that lie apart from their neighbours, as a design would give them. */
const points = fc
  .array(fc.tuple(corner, corner, corner), { minLength: 3, maxLength: 8 })
  .filter((list) => list.every((p, i) => i === 0 || Math.hypot(...p.map((v, k) => v - list[i - 1][k])) > 5));

const property = (check: (list: Vec3[]) => void) =>
  inMake(() => {
    fc.assert(fc.property(points, check), { seed: 7, numRuns: 60 });
  });

describe("paths through points", () => {
  test("pass through each of them, from the first to the last", () => {
    property((list) => {
      const path = through(list);
      near(path.start.position, list[0], 1e-6);
      near(path.end.position, list[list.length - 1], 1e-6);
      for (const point of list) expect(path.nearestTo(point).distanceTo(point)).toBeLessThan(0.01);
    });
  });

  test("closed ones come back to the start", () => {
    property((list) => {
      fc.pre(Math.hypot(...list[0].map((v, k) => v - list[list.length - 1][k])) > 5);
      const path = through(list, { closed: true });
      expect(path.at(1).distanceTo(path.at(0))).toBeLessThan(1e-6);
      expect(path.at(-0.25).distanceTo(path.at(0.75))).toBeLessThan(1e-6);
      expect(path.at(1.25).distanceTo(path.at(0.25))).toBeLessThan(1e-6);
    });
  });

  test("pulledBy starts and ends on its end points and stays within their hull", () => {
    property((list) => {
      const path = pulledBy(list);
      near(path.start.position, list[0], 1e-6);
      near(path.end.position, list[list.length - 1], 1e-6);
      for (let axis = 0; axis < 3; axis++) {
        const most = Math.max(...list.map((p) => p[axis]));
        for (let i = 0; i <= 20; i++) expect(path.at(i / 20).position[axis]).toBeLessThan(most + 1e-6);
      }
    });
  });

  test("shares are shares of the length", () => {
    property((list) => {
      const path = through(list);
      const chords = Array.from({ length: 400 }, (_, i) =>
        path.at(i / 400).distanceTo(path.at((i + 1) / 400)),
      );
      // No step is longer than its share of the length, and together they come near to all of it.
      expect(Math.max(...chords)).toBeLessThan(path.length / 400 + 1e-6);
      expect(chords.reduce((sum, chord) => sum + chord, 0)).toBeGreaterThan(path.length * 0.99);
      expect(path.atLength(10).distanceTo(path.at(10 / path.length))).toBeLessThan(1e-6);
      expect(path.atLength(-10).distanceTo(path.at(1 - 10 / path.length))).toBeLessThan(1e-6);
    });
  });

  test("frames are right-handed, of unit length and square", () => {
    property((list) => {
      const path = through(list);
      for (const share of [0, 0.3, 0.7, 1]) {
        const { along, out, side } = path.at(share);
        expect(Math.hypot(...along)).toBeCloseTo(1, 9);
        expect(Math.hypot(...out)).toBeCloseTo(1, 9);
        expect(along[0] * out[0] + along[1] * out[1] + along[2] * out[2]).toBeCloseTo(0, 9);
        // side × along = out
        near(
          [
            side[1] * along[2] - side[2] * along[1],
            side[2] * along[0] - side[0] * along[2],
            side[0] * along[1] - side[1] * along[0],
          ],
          out,
        );
      }
    });
  });
});

describe("derived paths", () => {
  test("mirrored twice, reversed twice and turned back are the path itself", () => {
    property((list) => {
      const path = through(list);
      expect(path.mirrored().mirrored().data).toEqual(path.data);
      expect(path.reversed().reversed().data).toEqual(path.data);
      const back = path.turned(73).turned(-73);
      for (const [i, point] of back.data.points.entries()) near(point, path.data.points[i], 1e-9);
      expect(path.mirrored().length).toBeCloseTo(path.length, 6);
      near(path.mirrored().at(0.4).position, path.at(0.4).mirrored().position, 1e-6);
      near(path.reversed().at(0.2).position, path.at(0.8).position, 0.01);
      near(
        path.moved({ right: 1, forward: 2, up: 3 }).at(0.5).position,
        path.at(0.5).moved({ right: 1, forward: 2, up: 3 }).position,
      );
    });
  });

  test("a part keeps to its path, backwards on an open one and over the start on a closed one", () => {
    inMake(({ head }) => {
      const open = through([
        [0, 100, 0],
        [50, 90, 30],
        [90, 20, 60],
      ]);
      near(open.part(0.8, 0.2).start.position, open.at(0.8).position, 1e-6);
      near(open.part(0.8, 0.2).end.position, open.at(0.2).position, 1e-6);
      const girth = head.girthLine;
      const front = girth.part(0.75, 0.25);
      expect(front.length).toBeCloseTo(girth.length / 2, 0);
      expect(front.at(0.5).distanceTo(head.landmarks.brow)).toBeLessThan(0.05);
      expect(girth.part(0.9, 1.4).length).toBeCloseTo(girth.length / 2, 0);
      for (let i = 0; i <= 20; i++) {
        const point = front.at(i / 20);
        expect(girth.nearestTo(point).distanceTo(point)).toBeLessThan(0.05);
      }
    });
  });

  test("lifted moves off the head, by a number or by the share", () => {
    inMake(({ head }) => {
      const lifted = head.girthLine.lifted(12);
      for (const share of [0, 0.2, 0.55])
        expect(head.coordinatesOf(lifted.at(share)).lift).toBeCloseTo(12, 0);
      const wave = head.girthLine.lifted((share) => 10 + 5 * Math.sin(2 * Math.PI * share));
      expect(head.coordinatesOf(wave.nearestTo(head.girthLine.at(0.25).lifted(15))).lift).toBeCloseTo(15, 0);
      expect(wave.closed).toBe(true);
    });
  });

  test("joined runs through both", () => {
    inMake(() => {
      const first = straight([0, 0, 100], [0, 0, 150]);
      const second = through([
        [0, 0, 150],
        [30, 0, 180],
        [60, 0, 180],
      ]);
      const whole = first.joined(second);
      expect(whole.length).toBeCloseTo(first.length + second.length, 0);
      near(whole.start.position, [0, 0, 100]);
      near(whole.end.position, [60, 0, 180]);
      expect(whole.nearestTo([0, 0, 150]).distanceTo([0, 0, 150])).toBeLessThan(0.01);
    });
  });

  test("spread puts points evenly, with both ends on an open path", () => {
    inMake(({ head }) => {
      const line = straight([0, 0, 100], [0, 0, 200]);
      expect(line.spread(5).map((p) => Math.round(p.z))).toEqual([100, 125, 150, 175, 200]);
      expect(line.spread(3, { from: 0.2, to: 0.4 }).map((p) => Math.round(p.z))).toEqual([120, 130, 140]);
      expect(line.spread(1)[0].z).toBeCloseTo(150, 9);
      expect(line.spreadEvery(24).map((p) => Math.round(p.z))).toEqual([100, 125, 150, 175, 200]);
      expect(head.girthLine.spread(8).map((p) => p.share)).toEqual(
        [0, 1, 2, 3, 4, 5, 6, 7].map((i) => i / 8),
      );
      expect(head.girthLine.spreadEvery(head.girthLine.length / 8)).toHaveLength(8);
    });
  });

  test("atAzimuth finds the point over that azimuth", () => {
    inMake(({ head }) => {
      const ring = head.girthLine.raised(10).lifted(5);
      fc.assert(
        fc.property(fc.double({ min: -180, max: 180, noNaN: true }), (azimuth) => {
          const found = head.coordinatesOf(ring.atAzimuth(azimuth)).azimuth;
          expect(Math.abs(((found - azimuth + 540) % 360) - 180)).toBeLessThan(0.01);
        }),
        { seed: 3, numRuns: 40 },
      );
      near(ring.atAzimuth(270).position, ring.atAzimuth(-90).position, 1e-3);
    });
  });
});

describe("helices and spirals", () => {
  test("a helix has its radius, rise and turns", () => {
    inMake(() => {
      // Length of a helix of radius 80 and rise 20 mm a radian over three turns: 2π·3·√(80² + 20²) = 1554.374 mm.
      const path = helix({ from: [0, 0, 0], radius: 80, rise: 40 * Math.PI, turns: 3 });
      expect(path.length).toBeCloseTo(1554.374201, 0);
      near(path.start.position, [0, 80, 0], 1e-9);
      for (const share of [0.1, 0.5, 0.93]) {
        const { x, y } = path.at(share);
        expect(Math.hypot(x, y)).toBeCloseTo(80, 1);
      }
      // Right-handed about +Z: from forward to the left.
      expect(path.at(0.02).x).toBeLessThan(0);
      expect(helix({ from: [0, 0, 0], radius: 80, rise: 10, turns: -3 }).at(0.02).x).toBeGreaterThan(0);
      near(helix({ from: [0, 0, 0], radius: [20, 5], rise: 10, turns: 2 }).end.position, [0, 5, 20], 1e-6);
    });
  });

  test("a spiral keeps its distance from the path it winds around", () => {
    inMake(() => {
      const core = through([
        [0, 0, 0],
        [0, 40, 60],
        [40, 60, 120],
      ]);
      const wound = spiralAround(core, { away: 9, turns: 5 });
      for (let i = 0; i <= 40; i++) {
        const point = wound.at(i / 40);
        expect(Math.abs(core.nearestTo(point).distanceTo(point) - 9)).toBeLessThan(0.3);
      }
      const widening = spiralAround(tube("core", core, { radius: 3 }), {
        away: (share) => 4 + 8 * share,
        turns: 2,
      });
      expect(widening.end.distanceTo(core.end)).toBeCloseTo(12, 1);
      expect(
        spiralAround(
          through(
            [
              [50, 0, 0],
              [0, 50, 0],
              [-50, 0, 0],
              [0, -50, 0],
            ],
            { closed: true },
          ),
          { away: 5, turns: 6 },
        ).closed,
      ).toBe(true);
    });
  });
});

describe("mistakes", () => {
  test.each<[string, () => unknown, object]>([
    [
      "one point",
      () => through([[0, 0, 0]]),
      { id: "too-few-points", text: "a path of 1 point", suggestion: "give at least 2 points" },
    ],
    [
      "two closed points",
      () =>
        through(
          [
            [0, 0, 0],
            [0, 0, 9],
          ],
          { closed: true },
        ),
      { text: "a closed path of 2 points" },
    ],
    [
      "equal points",
      () =>
        through([
          [0, 0, 0],
          [0, 0, 9],
          [0, 0, 9],
        ]),
      { id: "equal-points", text: "points 2 and 3 of the path are the same" },
    ],
    [
      "a closed path that repeats its start",
      () =>
        through(
          [
            [0, 0, 0],
            [0, 0, 9],
            [0, 9, 9],
            [0, 0, 0],
          ],
          { closed: true },
        ),
      { id: "equal-points", suggestion: "leave out the last: a closed path returns by itself" },
    ],
    [
      "no points",
      () => through("ring" as never),
      { id: "not-a-path", text: 'through takes a list of points, not "ring"' },
    ],
    [
      "a point of two numbers",
      () => through([[0, 0, 0], [1, 2] as never]),
      { id: "not-a-point", text: "point 2 of through is a list of 2, not a point" },
    ],
    [
      "a coordinate that is none",
      () =>
        through([
          [0, 0, 0],
          [1, 2, Number.NaN],
        ]),
      { id: "not-a-number", text: "z of point 2 of through is NaN, not a number" },
    ],
    [
      "a misspelt option",
      () =>
        through(
          [
            [0, 0, 0],
            [0, 0, 1],
          ],
          { close: true } as never,
        ),
      { id: "unknown-option", suggestion: 'did you mean "closed"?' },
    ],
    [
      "a share beyond the end",
      () => straight([0, 0, 0], [0, 0, 9]).at(1.2),
      { id: "out-of-range", text: "share is 1.2" },
    ],
    [
      "a part beyond the end",
      () => straight([0, 0, 0], [0, 0, 9]).part(0.2, 1.4),
      { id: "out-of-range", text: "to of part is 1.4" },
    ],
    [
      "a part of no length",
      () => straight([0, 0, 0], [0, 0, 9]).part(0.2, 0.2),
      { id: "no-length", text: "part from 0.2 to 0.2 has no length" },
    ],
    [
      "a pitch of nothing",
      () => straight([0, 0, 0], [0, 0, 9]).spreadEvery(0),
      { text: "pitch is 0", suggestion: "give a number above 0" },
    ],
    [
      "an axis without length",
      () => helix({ from: [0, 0, 0], axis: [0, 0, 0], radius: 9, rise: 1, turns: 1 }),
      { id: "no-direction" },
    ],
    [
      "a negative radius",
      () => helix({ from: [0, 0, 0], radius: [9, -1], rise: 1, turns: 1 }),
      { text: "radius of helix is -1" },
    ],
    [
      "a helix of no length",
      () => helix({ from: [0, 0, 0], radius: 0, rise: 0, turns: 1 }),
      { id: "equal-points" },
    ],
    [
      "a spiral around nothing",
      () => spiralAround({} as never, { away: 3, turns: 1 }),
      { id: "not-a-path", text: "spiralAround takes a path or a list of points, not an empty object" },
    ],
    [
      "a lift that is no number",
      () => straight([0, 90, 90], [0, 0, 160]).lifted(() => Number.NaN),
      { text: "lift of lifted is NaN, not a number" },
    ],
  ])("%s", (_, act, expected) => {
    expect(errorInMake(act)).toMatchObject({ severity: "error", ...expected });
  });

  test("a closed path cannot be joined", () => {
    expect(errorInMake(({ head }) => head.girthLine.joined(straight([0, 0, 0], [0, 0, 9])))).toMatchObject({
      id: "closed-path-joined",
    });
  });
});

test("a path never changes", () => {
  inMake(() => {
    const path = through([
      [0, 0, 0],
      [0, 0, 50],
      [20, 0, 90],
    ]);
    const before = JSON.stringify(path.data);
    path.lifted(3);
    path.reversed();
    path.mirrored();
    path.part(0.1, 0.4);
    expect(JSON.stringify(path.data)).toBe(before);
    expect(path).toBeInstanceOf(Path);
  });
});
