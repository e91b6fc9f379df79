import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { alongHead, onHead, through } from "../../src/design";
import { errorInMake, grown, inMake, near, run, stand } from "./rig";

/** Places where hair is even, so that the surface bulges outwards and each point off it has one foot only. */
const hairy = fc.record({
  azimuth: fc.double({ min: 115, max: 245, noNaN: true }),
  elevation: fc.double({ min: 5, max: 80, noNaN: true }),
});
const place = fc.record({
  azimuth: fc.double({ min: -180, max: 180, noNaN: true }),
  elevation: fc.double({ min: -20, max: 80, noNaN: true }),
});

describe("places on the head", () => {
  test("a place is a point, and a point a place", () => {
    inMake(({ head }) => {
      fc.assert(
        fc.property(hairy, fc.double({ min: 0, max: 120, noNaN: true }), (at, lift) => {
          const point = onHead({ ...at, lift });
          const found = head.coordinatesOf(point);
          expect(Math.abs(found.lift - lift)).toBeLessThan(0.05);
          expect(head.at(found).distanceTo(point)).toBeLessThan(0.05);
        }),
        { seed: 11, numRuns: 200 },
      );
    });
  });

  test("lift is the distance off the grown head, and out is square to it", () => {
    const point = inMake(() => onHead({ azimuth: 150, elevation: 40, lift: 25 }));
    const foot = grown.nearest(point.position);
    expect(foot.distance).toBeCloseTo(25, 2);
    near(point.out, foot.normal, 1e-3);
    near(point.lifted(-25).position, foot.point, 0.01);
  });

  test("azimuth 0 is the front, 90 the wearer's right, elevation 90 the crown", () => {
    inMake(({ head }) => {
      const brow = onHead({ azimuth: 0, elevation: 0 });
      expect(brow.y).toBeGreaterThan(80);
      expect(Math.abs(brow.x)).toBeLessThan(1e-6);
      expect(onHead({ azimuth: 90, elevation: 0 }).x).toBeGreaterThan(60);
      expect(onHead({ azimuth: 12, elevation: 90 }).distanceTo(head.landmarks.crown)).toBeLessThan(0.001);
      near(
        onHead({ azimuth: 40, elevation: 20 }).mirrored().position,
        onHead({ azimuth: -40, elevation: 20 }).position,
      );
    });
  });

  test("measurements are the wearer's own", () => {
    inMake(({ head }) => expect(head.measurements.girth).toBe(570));
  });

  test("regions", () => {
    inMake(({ head }) => {
      expect(head.isOver("hair", head.landmarks.crown)).toBe(true);
      expect(head.isOver("hair", head.landmarks.noseTip)).toBe(false);
      expect(
        head.isOver({ azimuth: [-30, 30], elevation: [0, 20] }, onHead({ azimuth: 0, elevation: 10 })),
      ).toBe(true);
      expect(head.isOver({ azimuth: [150, -150] }, onHead({ azimuth: 180, elevation: 10 }))).toBe(true);
      expect(head.isOver({ azimuth: [150, -150] }, onHead({ azimuth: 0, elevation: 10 }))).toBe(false);
    });
  });

  test("mistakes", () => {
    expect(errorInMake(() => onHead({ azimuth: 0, elevation: 95 }))).toMatchObject({
      id: "out-of-range",
      text: "elevation is 95",
      suggestion: "give a number of at least -90 and of at most 90",
    });
    expect(errorInMake(() => onHead({ azimuth: Number.NaN, elevation: 0 }))).toMatchObject({
      id: "not-a-number",
      text: "azimuth is NaN, not a number",
    });
    expect(errorInMake(() => onHead({ azimuth: 0, elevaton: 3 } as never))).toMatchObject({
      id: "unknown-option",
      text: 'at has no option "elevaton"',
      suggestion: 'did you mean "elevation"?',
    });
  });
});

describe("lines of the head", () => {
  test("the girth line is as long as the grown girth and starts at the brow", () => {
    inMake(({ head }) => {
      // Steiner: an outline grown by d is longer by 2πd; the hair adds its part at back and sides only.
      expect(head.girthLine.length).toBeGreaterThan(570 + 2 * Math.PI * 1.3 - 1);
      expect(head.girthLine.length).toBeLessThan(570 + 2 * Math.PI * 4.3);
      expect(head.girthLine.closed).toBe(true);
      expect(head.girthLine.start.distanceTo(head.landmarks.brow)).toBeLessThan(0.01);
      expect(head.girthLine.at(0.25).x).toBeGreaterThan(50);
    });
  });

  test("the others run as they say", () => {
    inMake(({ head }) => {
      expect(head.sagittalLine.start.distanceTo(head.landmarks.brow)).toBeLessThan(0.01);
      expect(head.sagittalLine.end.distanceTo(head.landmarks.nape)).toBeLessThan(0.01);
      expect(head.coronalLine.start.distanceTo(head.landmarks.leftTragion)).toBeLessThan(0.01);
      expect(head.coronalLine.end.distanceTo(head.landmarks.rightTragion)).toBeLessThan(0.01);
      expect(head.hairline.closed).toBe(true);
    });
  });

  test("raised walks its length up the surface", () => {
    inMake(({ head }) => {
      const base = head.girthLine;
      const raised = base.raised(20);
      for (const azimuth of [0, 70, 160, -110]) {
        const [low, high] = [base.atAzimuth(azimuth), raised.atAzimuth(azimuth)];
        const walked = alongHead([low, high]).length;
        expect(walked).toBeGreaterThan(19.5);
        expect(walked).toBeLessThan(20.3);
        expect(Math.abs(grown.signedDistance(high.position))).toBeLessThan(0.1);
      }
      expect(base.raised(-15).start.z).toBeLessThan(base.start.z - 10);
      expect(base.raised((share) => 30 * share).part(0, 0.9).end.z).toBeGreaterThan(base.start.z + 15);
    });
  });
});

describe("alongHead", () => {
  test("follows the surface and passes through its points", () => {
    inMake(() => {
      fc.assert(
        fc.property(fc.array(place, { minLength: 2, maxLength: 4 }), fc.boolean(), (places, closes) => {
          const points = places.map((at) => onHead(at));
          const closed = closes && points.length > 2;
          const apart = points.every((p, i) => {
            const q = points[(i + 1) % points.length];
            // Neighbours apart, and not on opposite sides, where no way is the shortest.
            return p.distanceTo(q) > 15 && p.distanceTo(q) < 170;
          });
          fc.pre(apart);
          const path = alongHead(points, { closed });
          for (const point of points) {
            expect(path.nearestTo(point).distanceTo(point)).toBeLessThan(0.02);
          }
          for (let i = 0; i <= 120; i++) {
            expect(Math.abs(grown.signedDistance(path.at(i / 120).position))).toBeLessThan(0.3);
          }
        }),
        { seed: 5, numRuns: 40, maxSkipsPerRun: 1000 },
      );
    });
  });

  test("keeps each point's lift and adds its own", () => {
    inMake(() => {
      const low = onHead({ azimuth: 0, elevation: 20, lift: 4 });
      const high = onHead({ azimuth: 60, elevation: 40, lift: 20 });
      const path = alongHead([low, high], { lift: 3 });
      expect(grown.signedDistance(path.start.position)).toBeCloseTo(7, 1);
      expect(grown.signedDistance(path.end.position)).toBeCloseTo(23, 1);
      const three = alongHead([low, high, low.mirrored().moved({ forward: -30 })]);
      expect(three.nearestTo(high).distanceTo(high)).toBeLessThan(0.05);
    });
  });

  test("is the shortest way: no longer than another way over the same two points", () => {
    inMake(({ head }) => {
      const [from, to] = [head.landmarks.leftTemple, head.landmarks.rightTemple];
      const direct = alongHead([from, to]);
      expect(direct.length).toBeLessThan(alongHead([from, head.landmarks.crown, to]).length);
      expect(direct.length).toBeGreaterThan(from.distanceTo(to));
    });
  });

  test("mistakes", () => {
    expect(errorInMake(() => alongHead([[0, 100, 40]]))).toMatchObject({
      id: "too-few-points",
      suggestion: "give a list of at least 2 points",
    });
    expect(
      errorInMake(() =>
        alongHead(
          [
            [0, 90, 40],
            [0, 80, 90],
          ],
          { closed: true },
        ),
      ).suggestion,
    ).toContain("3 points");
    expect(errorInMake(() => alongHead([[0, 90, 40], "crown" as never]))).toMatchObject({
      id: "not-a-point",
      text: 'point 2 of alongHead is "crown", not a point',
    });
  });
});

describe("around and scatter", () => {
  test("around spreads evenly, over a part with both ends", () => {
    inMake(({ head }) => {
      expect(head.around(4, (azimuth) => azimuth)).toEqual([0, 90, 180, 270]);
      expect(head.around(3, (azimuth) => azimuth, { from: -30, to: 30 })).toEqual([-30, 0, 30]);
      expect(head.around(0, () => 1)).toEqual([]);
      expect(head.around(2, (_, i) => i)).toEqual([0, 1]);
    });
  });

  test("scatter keeps its spacing and its region, and fills it", () => {
    inMake(({ head }) => {
      const points = head.scatter("crown", { spacing: 16, lift: 2 });
      expect(points.length).toBeGreaterThan(12);
      for (const [i, p] of points.entries()) {
        expect(head.isOver("crown", p)).toBe(true);
        expect(head.coordinatesOf(p).lift).toBeCloseTo(2, 1);
        for (const q of points.slice(0, i)) expect(p.distanceTo(q)).toBeGreaterThan(15.5);
      }
      expect(head.scatter("crown", { spacing: 16, most: 3 })).toHaveLength(3);
      expect(head.scatter("crown", { spacing: 16, lift: 2 }).map((p) => p.position)).toEqual(
        points.map((p) => p.position),
      );
      expect(
        head.scatter({ azimuth: [-40, 40], elevation: [0, 30] }, { spacing: 12 }).length,
      ).toBeGreaterThan(10);
    });
  });

  test("another seed scatters otherwise", () => {
    const scattered = (seed: number) => {
      let found: unknown;
      run(
        ({ head }) => {
          found = head.scatter("crown", { spacing: 20 }).map((p) => p.position);
          return stand();
        },
        { seed },
      );
      return found;
    };
    expect(scattered(1)).toEqual(scattered(1));
    expect(scattered(1)).not.toEqual(scattered(2));
  });

  test("mistakes", () => {
    expect(errorInMake(({ head }) => head.scatter("crwn" as never, { spacing: 10 }))).toMatchObject({
      id: "unknown-word",
      text: 'region of scatter is "crwn"',
      suggestion: 'did you mean "crown"?',
    });
    expect(errorInMake(({ head }) => head.scatter("crown", { spacing: 0.1 })).text).toBe(
      "spacing of scatter is 0.1",
    );
    expect(errorInMake(({ head }) => head.around(-2, () => 0)).text).toBe("how many times around is -2");
  });
});

test("a head is asked for inside make only", () => {
  let thrown: unknown;
  try {
    onHead({ azimuth: 0, elevation: 0 });
  } catch (error) {
    thrown = error;
  }
  expect(thrown).toMatchObject({
    messages: [{ id: "outside-make", text: "onHead needs a head, and there is none here" }],
  });
  // A path in space can be drawn anywhere; a place on the head that it asks for cannot.
  expect(
    through([
      [0, 0, 0],
      [0, 0, 10],
    ]).length,
  ).toBeCloseTo(10, 9);
});
