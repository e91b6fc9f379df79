import { primitives } from "@jscad/modeling";
import { describe, expect, test } from "vitest";
import {
  angle,
  band,
  choice,
  count,
  cut,
  headpiece,
  length,
  type Make,
  onHead,
  type Random,
  resting,
  solid,
  toggle,
  tube,
} from "../../src/design";
import { readHeader, runDesign } from "../../src/design/run";
import { errorInMake, errorOf, grown, head, inMake, run, stand } from "./rig";

const parameters = {
  branches: count(9, { least: 3, most: 24, help: "stems" }),
  reach: length(90, { least: 20, most: 160 }),
  sweep: angle(-35),
  mood: choice(["calm", "storm"], { preset: "storm" }),
  veil: toggle(true),
};

describe("what a headpiece declares", () => {
  test("all of it, as data", () => {
    const header = readHeader(
      headpiece({
        name: "Coral crown",
        wearer: "a.wearer.json",
        printer: "b.printer.json",
        material: "c.material.json",
        ease: { girth: 10 },
        print: { infill: 20 },
        parameters,
        make: () => stand(),
      }),
    );
    expect(header).toEqual({
      name: "Coral crown",
      wearer: "a.wearer.json",
      printer: "b.printer.json",
      material: "c.material.json",
      // FACTS of the trade: offset = girth ease / 2π; 10 mm of girth are 1.59 mm all round.
      easeOffset: 10 / (2 * Math.PI),
      print: { settings: { infill: 20 } },
      parameters: [
        { name: "branches", kind: "count", default: 9, unit: "", least: 3, most: 24, help: "stems" },
        { name: "reach", kind: "length", default: 90, unit: "mm", least: 20, most: 160 },
        { name: "sweep", kind: "angle", default: -35, unit: "°" },
        { name: "mood", kind: "choice", default: "storm", choices: ["calm", "storm"], unit: "" },
        { name: "veil", kind: "toggle", default: true, unit: "" },
      ],
    });
    expect(JSON.parse(JSON.stringify(header))).toEqual(header);
    expect(readHeader(headpiece({ name: "a", ease: { offset: 2 }, make: () => [] })).easeOffset).toBe(2);
    expect(readHeader(headpiece({ name: "a", make: () => [] })).easeOffset).toBeUndefined();
  });

  test("values reach make, defaults where none are given", () => {
    let seen: unknown;
    const piece = headpiece({
      name: "a",
      parameters,
      make(given) {
        seen = given.parameters;
        return stand();
      },
    });
    const { values } = runDesign(piece, { head, values: { branches: 5, mood: "calm", veil: false } });
    expect(values).toEqual({ branches: 5, reach: 90, sweep: -35, mood: "calm", veil: false });
    expect(seen).toEqual(values);
  });

  test.each<[string, () => unknown, object]>([
    [
      "no name",
      () => headpiece({ make: () => [] } as never),
      { id: "not-a-text", text: "name of the headpiece is undefined, not a text" },
    ],
    [
      "no make",
      () => headpiece({ name: "Crown" } as never),
      { id: "no-make", text: 'make of "Crown" is undefined, not a function' },
    ],
    [
      "a misspelt option",
      () => headpiece({ name: "Crown", parameter: {}, make: () => [] } as never),
      { id: "unknown-option", suggestion: 'did you mean "parameters"?' },
    ],
    [
      "a bare number for a parameter",
      () => headpiece({ name: "Crown", parameters: { n: 3 } as never, make: () => [] }),
      { id: "not-a-parameter", text: 'parameter "n" is 3' },
    ],
    [
      "a wearer that is no file name",
      () => headpiece({ name: "Crown", wearer: 3 as never, make: () => [] }),
      { text: "wearer is 3, not a text" },
    ],
    [
      "two eases",
      () => headpiece({ name: "Crown", ease: { girth: 8, offset: 2 } as never, make: () => [] }),
      { id: "two-eases" },
    ],
    [
      "an ease of no number",
      () => headpiece({ name: "Crown", ease: {} as never, make: () => [] }),
      { id: "not-a-number", text: "offset of ease is undefined, not a number" },
    ],
    [
      "an ease in another word",
      () => headpiece({ name: "Crown", ease: { girht: 8 } as never, make: () => [] }),
      { id: "unknown-option", suggestion: 'did you mean "girth"?' },
    ],
    [
      "infill beyond full",
      () => headpiece({ name: "Crown", print: { infill: 150 }, make: () => [] }),
      { text: 'print: "infill" is 150 %' },
    ],
    [
      "a print setting that is none",
      () => headpiece({ name: "Crown", print: { infil: 15 } as object, make: () => [] }),
      { text: 'print has no option "infil"' },
    ],
    [
      "half a shell",
      () => headpiece({ name: "Crown", print: { shells: 2.5 }, make: () => [] }),
      { text: 'print: "shells" is 2.5' },
    ],
    [
      "an orientation that is none",
      () => headpiece({ name: "Crown", print: { orientation: "sideways" as "best" }, make: () => [] }),
      { text: 'orientation of print is "sideways"' },
    ],
    [
      "a tilt beyond upside down",
      () => headpiece({ name: "Crown", print: { orientation: { tilt: 200 } }, make: () => [] }),
      { text: "tilt of orientation is 200" },
    ],
    [
      "a weight that counts against",
      () => headpiece({ name: "Crown", print: { orientationWeights: { hours: -1 } }, make: () => [] }),
      { text: "hours of orientationWeights is -1" },
    ],
    [
      "a seed that is not whole",
      () => headpiece({ name: "Crown", seed: 1.5, make: () => [] }),
      { text: "seed is 1.5" },
    ],
    [
      "a default out of range",
      () => count(2, { least: 3 }),
      {
        id: "out-of-range",
        text: "the default of count is 2",
        suggestion: "give a whole number of at least 3",
      },
    ],
    ["a default that is not whole", () => count(2.5), { text: "the default of count is 2.5" }],
    ["a range upside down", () => length(5, { least: 9, most: 4 }), { text: "most of length is 4" }],
    ["no choices", () => choice([]), { id: "no-choices" }],
    [
      "a preset that is none of them",
      () => choice(["calm", "storm"], { preset: "strom" as never }),
      { id: "unknown-word", suggestion: 'did you mean "storm"?' },
    ],
    [
      "a toggle of a word",
      () => toggle("yes" as never),
      { id: "not-a-toggle", text: 'toggle takes true or false, not "yes"' },
    ],
    [
      "a unit word",
      () => length(5, { inches: 3 } as never),
      { id: "unknown-option", text: 'length has no option "inches"' },
    ],
  ])("mistake: %s", (_, act, expected) => {
    expect(errorOf(act)).toMatchObject(expected);
  });

  test.each<[string, Record<string, never>, object]>([
    [
      "an unknown parameter",
      { branch: 3 as never },
      {
        id: "unknown-parameter",
        text: 'the design has no parameter "branch"',
        suggestion: 'did you mean "branches"?',
      },
    ],
    [
      "a count out of range",
      { branches: 99 as never },
      {
        id: "out-of-range",
        text: 'parameter "branches" is 99',
        suggestion: "give a whole number of at least 3 and of at most 24",
      },
    ],
    ["a count that is not whole", { branches: 4.5 as never }, { text: 'parameter "branches" is 4.5' }],
    [
      "a length as a text",
      { reach: "90" as never },
      { id: "not-a-number", text: 'parameter "reach" is "90", not a number' },
    ],
    [
      "another word",
      { mood: "stormy" as never },
      { id: "unknown-word", suggestion: 'did you mean "storm"?' },
    ],
    ["a toggle as a number", { veil: 1 as never }, { id: "not-a-toggle", text: 'parameter "veil" is 1' }],
  ])("value: %s", (_, values, expected) => {
    const piece = headpiece({ name: "a", parameters, make: () => stand() });
    expect(errorOf(() => runDesign(piece, { head, values }))).toMatchObject(expected);
  });
});

describe("what make gives back", () => {
  test("parts in lists as deep as one likes, in order, as plain data", () => {
    const result = run(() => {
      const post = (name: string) =>
        tube(name, [
          [0, 0, 150],
          [0, 0, 190],
        ]);
      const pearl = solid("pearl", primitives.sphere({ radius: 4 }), { at: [0, 0, 190] });
      return [
        post("a"),
        [[post("b")], pearl],
        cut("notch", primitives.cube({ size: 3 }), { at: [0, 0, 150] }),
      ];
    });
    expect(result.parts.map(({ kind, name }) => `${kind} ${name}`)).toEqual([
      "tube a",
      "tube b",
      "solid pearl",
      "cut notch",
    ]);
    expect(structuredClone(result)).toEqual(result);
  });

  test.each<[string, (given: Make<Record<never, never>>) => unknown, object]>([
    [
      "nothing",
      () => undefined,
      { id: "no-parts", text: "make gives back nothing", suggestion: "end make with return [part, part, …]" },
    ],
    ["no parts", () => [], { id: "no-parts", text: "make gives back no parts" }],
    [
      "cuts only",
      () => cut("a", primitives.cube({ size: 3 })),
      { id: "no-parts", text: "make gives back cuts only" },
    ],
    [
      "a promise",
      async () => [],
      { id: "make-is-async", suggestion: "make must return its parts at once: leave out async and await" },
    ],
    [
      "a number among parts",
      () => [stand(), 3],
      { id: "not-a-part", text: "make gives back 3 among its parts" },
    ],
    ["a path", ({ head: h }) => h.girthLine, { id: "not-a-part" }],
    [
      "two parts of one name",
      () => [stand(), stand()],
      { id: "two-parts-of-one-name", text: 'two parts are named "stand"', part: "stand" },
    ],
    [
      "a cut from a part that is not there",
      () => [
        stand(),
        cut("a", primitives.cube({ size: 3 }), {
          from: tube("b", [
            [0, 0, 0],
            [0, 0, 9],
          ]),
        }),
      ],
      { id: "cut-from-nothing", text: '"a" is cut from "b", which make does not give back' },
    ],
    [
      "a rest over a tube that is not there",
      () =>
        resting([stand()], {
          over: tube("b", [
            [0, 0, 0],
            [0, 0, 9],
          ]),
        }),
      { id: "rests-on-nothing", text: '"stand" rests over "b", which make does not give back' },
    ],
  ])("mistake: %s", (_, make, expected) => {
    expect(errorOf(() => run(make as never))).toMatchObject({ severity: "error", ...expected });
  });

  test.each<[string, unknown, object]>([
    ["no export", undefined, { id: "no-headpiece", text: "the design has no default export" }],
    [
      "an object that looks like one",
      { name: "Crown", make: () => [] },
      { id: "no-headpiece", text: "the default export is an object with name, make, not a headpiece" },
    ],
    ["a function", () => [], { text: "the default export is a function, not a headpiece" }],
  ])("mistake: %s", (_, exported, expected) => {
    expect(errorOf(() => runDesign(exported, { head, values: {} }))).toMatchObject(expected);
    expect(errorOf(() => readHeader(exported))).toMatchObject(expected);
  });

  test("an error inside make leaves no head behind", () => {
    expect(errorInMake(() => onHead({ azimuth: 0, elevation: 99 })).id).toBe("out-of-range");
    expect(errorOf(() => onHead({ azimuth: 0, elevation: 0 })).id).toBe("outside-make");
  });
});

describe("seeded random numbers", () => {
  const crown = (seed: number) =>
    JSON.stringify(
      run(
        ({ head: h, random }) => [
          band("ring", h.girthLine.raised(10), { radius: 5 }),
          h.around(5, (azimuth, i) =>
            tube(`ray ${i}`, [
              onHead({ azimuth, elevation: 5 }),
              onHead({
                azimuth: azimuth + random.between(-9, 9),
                elevation: random.between(30, 50),
                lift: 40,
              }),
            ]),
          ),
        ],
        { seed },
      ),
    );

  test("the same design gives the same bytes, another seed another piece", () => {
    expect(crown(1)).toBe(crown(1));
    expect(crown(2)).not.toBe(crown(1));
  });

  const draws = <T>(draw: (random: Random) => T): T => inMake(({ random }) => draw(random));

  test("lie where they should, evenly", () => {
    const shares = draws((random) => Array.from({ length: 4000 }, () => random.share()));
    expect(Math.min(...shares)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...shares)).toBeLessThan(1);
    // Mean and variance of the even distribution are 1/2 and 1/12; 4 standard errors of 4,000 draws.
    const mean = shares.reduce((sum, x) => sum + x, 0) / shares.length;
    expect(Math.abs(mean - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / shares.length));
    const whole = draws((random) => new Set(Array.from({ length: 300 }, () => random.whole(1, 6))));
    expect([...whole].sort()).toEqual([1, 2, 3, 4, 5, 6]);
    expect(draws((random) => random.between(-3, -2))).toBeLessThan(-2);
    expect(["a", "b"]).toContain(draws((random) => random.oneOf(["a", "b"])));
  });

  test("streams of near names have nothing to do with each other", () => {
    const firsts = draws((random) =>
      Array.from({ length: 2000 }, (_, i) => random.named(`stem ${i}`).share()),
    );
    const mean = firsts.reduce((sum, x) => sum + x, 0) / firsts.length;
    expect(Math.abs(mean - 0.5)).toBeLessThan(4 * Math.sqrt(1 / 12 / firsts.length));
    // Serial correlation of independent draws lies within 4/√n.
    const next =
      firsts.slice(1).reduce((sum, x, i) => sum + (x - 0.5) * (firsts[i] - 0.5), 0) / (firsts.length - 1);
    expect(Math.abs(next * 12)).toBeLessThan(4 / Math.sqrt(firsts.length));
  });

  test("a named stream does not change when others draw", () => {
    const plain = draws((random) => random.named("horn").share());
    const after = draws((random) => {
      random.share();
      return random.named("horn").share();
    });
    expect(after).toBe(plain);
  });

  test("mistakes", () => {
    expect(errorInMake(({ random }) => random.oneOf([]))).toMatchObject({ id: "empty-list" });
    expect(errorInMake(({ random }) => random.between(1, Number.NaN))).toMatchObject({
      text: "most of random.between is NaN, not a number",
    });
    expect(errorInMake(({ random }) => random.whole(5, 2))).toMatchObject({
      text: "most of random.whole is 2",
    });
  });
});

test("the ease of the head is in its coordinates: lift 0 is the grown surface", () => {
  inMake(() => {
    expect(grown.signedDistance(onHead({ azimuth: 150, elevation: 20 }).position)).toBeCloseTo(0, 2);
  });
});
