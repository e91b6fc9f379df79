import { primitives } from "@jscad/modeling";
import { describe, expect, test } from "vitest";
import { band, group, onHead, resting, straight, through, tube } from "../../src/design";
import { meshVolume } from "../../src/geometry/measure";
import { radiusProfile } from "../../src/geometry/radius";
import { sweepTube } from "../../src/geometry/sweep";
import { errorInMake, grown, inMake, near, run, tubeShape } from "./rig";

const post: [number, number, number][] = [
  [0, 0, 150],
  [0, 0, 200],
  [0, 0, 250],
];

describe("radius", () => {
  const profile = (radius: Parameters<typeof tube>[2]) =>
    radiusProfile(tubeShape(run(() => tube("post", post, radius))).radius);

  test("one number, a list over the length, a list by point, a function of the share", () => {
    expect(profile({ radius: 3 }).at(0.4)).toBe(3);
    expect(profile({ radius: [8, 4] }).at(0.5)).toBeCloseTo(6, 9);
    const uneven = inMake(() =>
      tube(
        "post",
        [
          [0, 0, 150],
          [0, 0, 160],
          [0, 0, 250],
        ],
        { radius: [8, 4, 2] },
      ),
    ).shape.radius;
    expect(uneven.shares[1]).toBeCloseTo(0.1, 6);
    const spread = inMake(() => tube("post", straight([0, 0, 150], [0, 0, 250]), { radius: [8, 4, 2] })).shape
      .radius;
    expect(spread.shares).toEqual([0, 0.5, 1]);
    expect(profile({ radius: (share) => 3 + share }).at(0.25)).toBeCloseTo(3.25, 6);
    expect(profile({}).at(0.3)).toBe(5);
  });

  test("a function is read finely enough for ridges", () => {
    const wave = (share: number) => 6 + Math.sin(2 * Math.PI * 25 * share);
    const read = profile({ radius: wave });
    for (let i = 0; i <= 500; i++) expect(Math.abs(read.at(i / 500) - wave(i / 500))).toBeLessThan(0.12);
  });

  test.each<[string, object, object]>([
    [
      "zero",
      { radius: 0 },
      {
        id: "out-of-range",
        text: 'radius of "post" is 0',
        suggestion: "give a number above 0 and of at most 500",
      },
    ],
    ["a text", { radius: "3" }, { id: "not-a-radius", text: 'radius of "post" is "3"' }],
    ["an empty list", { radius: [] }, { id: "not-a-radius", text: 'radius of "post" is a list of 0' }],
    ["a function that ends below zero", { radius: (s: number) => 1 - 2 * s }, { id: "out-of-range" }],
    [
      "an object",
      { radius: { start: 3 } },
      { id: "not-a-radius", text: 'radius of "post" is an object with start' },
    ],
  ])("mistake: %s", (_, options, expected) => {
    expect(errorInMake(() => tube("post", post, options as never))).toMatchObject(expected);
  });
});

describe("tips", () => {
  const ends = (options: Parameters<typeof tube>[2]) => {
    const { startTip, endTip } = tubeShape(run(() => tube("post", post, { radius: [6, 4], ...options })));
    return [startTip, endTip];
  };

  test("round unless given, both by tip, each by its own", () => {
    expect(ends({})).toEqual([{ kind: "round" }, { kind: "round" }]);
    expect(ends({ tip: "flat" })).toEqual([{ kind: "flat" }, { kind: "flat" }]);
    expect(ends({ tip: "flat", endTip: { bulb: 7 } })).toEqual([
      { kind: "flat" },
      { kind: "bulb", radius: 7 },
    ]);
    expect(ends({ endTip: { point: 1.5 } })[1]).toEqual({ kind: "point", radius: 1.5, length: 16 });
    expect(ends({ endTip: { point: 1.5, over: 9 } })[1]).toEqual({ kind: "point", radius: 1.5, length: 9 });
    expect(ends({ startTip: { flare: 10 } })[0]).toEqual({ kind: "flare", radius: 10, length: 14 });
  });

  test("into reaches the middle of the other tube, from the end, from the start, on a pulled path", () => {
    inMake(({ head }) => {
      const ring = band("ring", head.girthLine, { radius: 6 });
      const [low, high] = [
        onHead({ azimuth: 30, elevation: 15, lift: 9 }),
        onHead({ azimuth: 30, elevation: 60, lift: 50 }),
      ];
      for (const options of [
        { endTip: { into: ring } },
        { startTip: { into: ring } },
        { tip: { into: ring } },
      ]) {
        const points = options.startTip ? [low, high] : [high, low];
        const grownTo = tube("branch", points, { radius: [5, 3], ...options });
        const end = options.startTip ? grownTo.path.start : grownTo.path.end;
        expect(ring.path.nearestTo(end).distanceTo(end)).toBeLessThan(0.01);
      }
      // The radii stay at the points that they were given for.
      const { shape, path } = tube("branch", [low, high], { radius: [5, 3], startTip: { into: ring } });
      expect(path.data.points).toHaveLength(3);
      expect(path.at(shape.radius.shares[0]).distanceTo(low)).toBeLessThan(0.01);
      expect(shape.radius.shares[1]).toBe(1);
      expect(
        tube("there", [high, ring.path.nearestTo(high)], { endTip: { into: ring } }).path.data.points,
      ).toHaveLength(2);
    });
  });

  test.each<[string, object, object]>([
    [
      "an unknown word",
      { tip: "sharp" },
      {
        id: "unknown-word",
        text: 'the start tip of "post" is "sharp"',
        suggestion: 'give one of "round", "flat"',
      },
    ],
    [
      "a point wider than the tube",
      { endTip: { point: 9 } },
      { id: "out-of-range", text: 'point of the end tip of "post" is 9' },
    ],
    [
      "a bulb narrower than the tube",
      { endTip: { bulb: 1 } },
      {
        text: 'bulb of the end tip of "post" is 1',
        suggestion: "give a number of at least 5 and of at most 500",
      },
    ],
    ["a misspelt one", { endTip: { bulp: 9 } }, { id: "unknown-option", suggestion: 'did you mean "bulb"?' }],
    [
      "two in one",
      { endTip: { point: 2, bulb: 9 } },
      { id: "unknown-option", text: 'the end tip of "post" has no option "bulb"' },
    ],
    ["none", { endTip: 3 }, { id: "not-a-tip", text: 'the end tip of "post" is 3' }],
    [
      "into a name",
      { endTip: { into: "ring" } },
      { id: "not-a-tube", text: '"post" is to grow into "ring", not into a tube' },
    ],
  ])("mistake: %s", (_, options, expected) => {
    expect(errorInMake(() => tube("post", post, options as never))).toMatchObject(expected);
  });

  test("mistake: a tip on a closed path", () => {
    expect(errorInMake(({ head }) => tube("ring", head.girthLine, { tip: "flat" }))).toMatchObject({
      id: "tip-on-closed-path",
      text: '"ring" runs along a closed path and has no ends for a tip',
    });
  });
});

describe("sections", () => {
  test("an outline in any order, and a geom2, have the same area", () => {
    const square: [number, number][] = [
      [-1, -1],
      [1, -1],
      [1, 1],
      [-1, 1],
    ];
    const volume = (section: never) =>
      meshVolume(sweepTube(tubeShape(run(() => tube("post", post, { section, radius: 3, tip: "flat" })))));
    const exact = 100 * 36;
    expect(volume(square as never)).toBeCloseTo(exact, 0);
    expect(volume([...square].reverse() as never)).toBeCloseTo(exact, 0);
    expect(volume(primitives.square({ size: 2 }) as never)).toBeCloseTo(exact, 0);
    const inMm = tubeShape(
      run(() => tube("post", post, { section: primitives.square({ size: 6 }), tip: "flat" })),
    );
    expect(meshVolume(sweepTube(inMm))).toBeCloseTo(exact, 0);
  });

  test("facing keeps the outline's +Y where it is told to", () => {
    inMake(({ head }) => {
      const blade = tube("blade", head.girthLine.part(0, 0.3), {
        section: [
          [-4, 0],
          [4, 0],
          [0, 1],
        ],
        facing: "out",
      });
      const ups = blade.shape.upAtPoints ?? [];
      expect(ups).toHaveLength(blade.path.data.points.length);
      for (const [i, up] of ups.entries()) {
        const { normal } = grown.nearest(blade.path.data.points[i]);
        expect(up[0] * normal[0] + up[1] * normal[1] + up[2] * normal[2]).toBeGreaterThan(0.99);
      }
      expect(tube("fin", post, { facing: [2, 0, 0] }).shape.upAtPoints).toEqual([
        [1, 0, 0],
        [1, 0, 0],
        [1, 0, 0],
      ]);
      expect(
        tube(
          "fin",
          [
            [0, 0, 200],
            [0, 60, 200],
          ],
          { facing: "up" },
        ).shape.upAtPoints?.[0],
      ).toEqual([0, 0, 1]);
    });
  });

  test.each<[string, object, object]>([
    [
      "too few points",
      {
        section: [
          [0, 0],
          [1, 1],
        ],
      },
      { id: "too-few-points", text: 'the section of "post" has 2 points' },
    ],
    [
      "no area",
      {
        section: [
          [0, 0],
          [1, 1],
          [2, 2],
        ],
      },
      { id: "no-area" },
    ],
    ["a word", { section: "square" }, { id: "not-a-section", text: 'the section of "post" is "square"' }],
    [
      "several outlines",
      { section: primitives.circle({ radius: 0 }) },
      { id: "section-of-several-outlines" },
    ],
    ["an unknown facing", { facing: "outwards" }, { id: "unknown-word", suggestion: 'did you mean "out"?' }],
    [
      "a facing without length",
      { facing: [0, 0, 0] },
      { id: "no-direction", text: 'facing of "post" is [0, 0, 0], which has no length' },
    ],
    ["a twist beyond reason", { twist: 1e6 }, { text: 'twist of "post" is 1000000' }],
  ])("mistake: %s", (_, options, expected) => {
    expect(errorInMake(() => tube("post", post, options as never))).toMatchObject(expected);
  });
});

describe("surfaceAt", () => {
  test("is one radius off the path, to the side asked for", () => {
    inMake(() => {
      const stem = tube(
        "stem",
        [
          [0, 90, 150],
          [0, 120, 200],
        ],
        { radius: [8, 4], tip: "flat" },
      );
      for (const around of [0, 90, -135]) {
        const point = stem.surfaceAt(0.5, around);
        expect(point.distanceTo(stem.at(0.5))).toBeCloseTo(6, 6);
        expect(Math.hypot(...point.out)).toBeCloseTo(1, 9);
        near(point.lifted(-6).position, stem.at(0.5).position, 1e-9);
      }
      const { out, side } = stem.at(0.5);
      near(stem.surfaceAt(0.5).out, out, 1e-9);
      near(stem.surfaceAt(0.5, 90).out, side, 1e-9);
      near(stem.surfaceAt(stem.at(0.5)).position, stem.surfaceAt(0.5).position, 1e-9);
    });
  });

  test("of a strap is its outer face", () => {
    inMake(({ head }) => {
      const strap = band("strap", head.girthLine, { width: 20, thickness: 4 });
      for (const azimuth of [0, 45, 170]) {
        const point = strap.surfaceAt(strap.atAzimuth(azimuth));
        expect(point.distanceTo(strap.atAzimuth(azimuth))).toBeCloseTo(4, 1);
        expect(head.coordinatesOf(point).lift).toBeCloseTo(4, 0);
      }
      expect(strap.surfaceAt(0.1, 90).distanceTo(strap.at(0.1))).toBeCloseTo(10, 0);
    });
  });
});

describe("bands and hollows", () => {
  test("a strap lies flat on the head: its outer face keeps its thickness", () => {
    inMake(({ head }) => {
      const strap = band("strap", head.girthLine.raised(8), { width: 18, thickness: 3.2 });
      const { positions } = sweepTube(strap.shape);
      const lifts = Array.from({ length: positions.length / 3 }, (_, i) =>
        grown.signedDistance([positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]]),
      );
      expect(Math.max(...lifts)).toBeLessThan(4.5);
      expect(Math.max(...lifts)).toBeGreaterThan(2.8);
      expect(Math.min(...lifts)).toBeGreaterThan(-5.5);
    });
  });

  test("an open line makes a strap with flat ends", () => {
    const shape = tubeShape(run(({ head }) => band("brow", head.girthLine.part(0.9, 1.1), { width: 20 })));
    expect([shape.startTip, shape.endTip]).toEqual([{ kind: "flat" }, { kind: "flat" }]);
  });

  test("a hollow keeps its wall, drain and place", () => {
    const shape = tubeShape(run(() => tube("post", post, { radius: 8, hollow: { wall: 2, drain: 3 } })));
    expect(shape.hollow).toEqual({ wall: 2, drain: 3, drainAt: 0.5 });
  });

  test.each<[string, () => unknown, object]>([
    [
      "no line",
      () => band("ring", [[0, 0, 0]] as never, { radius: 3 }),
      { id: "not-a-path", text: 'band "ring" needs the line that it lies along' },
    ],
    [
      "two sections",
      () => band("ring", straight([0, 0, 9], [0, 9, 9]), { radius: 3, width: 9 }),
      { id: "two-sections" },
    ],
    [
      "neither radius nor width",
      () => band("ring", straight([0, 0, 9], [0, 9, 9]), {}),
      { id: "not-a-number", text: 'width of band "ring" is undefined, not a number' },
    ],
    [
      "a wall that fills the tube",
      () => tube("post", post, { radius: [8, 2], hollow: { wall: 2 } }),
      {
        id: "wall-too-thick",
        text: 'wall of "post" is 2 mm, and its least radius 2 mm leaves no core',
        suggestion: "give a wall below 2 mm, or leave out hollow",
      },
    ],
    [
      "no name",
      () => tube("  ", post),
      { id: "not-a-text", text: 'the name of the tube is "  ", not a text' },
    ],
    [
      "a misspelt option",
      () => tube("post", post, { radus: 3 } as never),
      {
        id: "unknown-option",
        text: 'tube "post" has no option "radus"',
        suggestion: 'did you mean "radius"?',
      },
    ],
    [
      "options that are none",
      () => tube("post", post, 3 as never),
      { id: "not-options", text: 'tube "post" takes its options as an object, not 3' },
    ],
    [
      "a path that is none",
      () => tube("post", 7 as never),
      { id: "not-a-path", text: 'tube "post" takes a path or a list of points, not 7' },
    ],
  ])("mistake: %s", (_, act, expected) => {
    expect(errorInMake(act)).toMatchObject(expected);
  });
});

describe("resting", () => {
  test("knows what it lies over, in groups too", () => {
    const { parts } = run(({ head }) => {
      const ring = band("ring", head.girthLine, { radius: 5 });
      return group("crest", [ring, resting([tube("stem", post)], { over: ring })]);
    });
    expect(parts[1]).toMatchObject({
      name: "crest: stem",
      resting: { over: ["crest: ring"], pinned: "none" },
    });
  });

  test("marks tubes for the heap, with ends that stay", () => {
    const { parts } = run(() => {
      const stems = [1, 2].map((i) =>
        tube(
          `stem ${i}`,
          through([
            [0, 90, 150 + i],
            [0, 0, 180],
            [0, -90, 150],
          ]),
          { radius: 4 },
        ),
      );
      return resting(stems, { sink: 0.2, pinned: "both" });
    });
    expect(parts.map((part) => part.kind === "tube" && part.resting)).toEqual([
      { heap: "heap", sink: 0.2, pinned: "both" },
      { heap: "heap", sink: 0.2, pinned: "both" },
    ]);
  });

  test.each<[string, () => unknown, object]>([
    ["no list", () => resting(tube("post", post) as never), { id: "not-tubes" }],
    [
      "something else",
      () => resting(["stem" as never]),
      { id: "not-tubes", text: 'resting can lay tubes only, and over tubes only, not "stem"' },
    ],
    ["too deep", () => resting([], { sink: 0.9 }), { text: "sink of resting is 0.9" }],
    [
      "an unknown end",
      () => resting([], { pinned: "strat" as never }),
      { suggestion: 'did you mean "start"?' },
    ],
  ])("mistake: %s", (_, act, expected) => {
    expect(errorInMake(act)).toMatchObject(expected);
  });
});
