import { describe, expect, test } from "vitest";
import {
  band,
  choice,
  combSlot,
  count,
  headpiece,
  helix,
  length,
  onHead,
  type Point,
  type PointLike,
  socket,
  solid,
  spiralAround,
  through,
  tube,
} from "../../src/design";
import { inMake, run } from "./rig";

/**
 * Mistakes that must show while typing: each line below a `@ts-expect-error` fails the type check if it compiles.
 * Most are errors at run time too, for those who write JavaScript.
 */
const ends: PointLike[] = [
  [0, 0, 0],
  [0, 0, 9],
];
const refused = (act: () => unknown) => expect(() => inMake(act)).toThrow();

describe("mistakes that do not compile", () => {
  test("misspelt options", () => {
    // @ts-expect-error
    refused(() => tube("a", ends, { radus: 3 }));
    // @ts-expect-error
    refused(() => onHead({ azimuth: 3, elevaton: 4 }));
    // @ts-expect-error
    refused(() => through(ends, { close: true }));
    // @ts-expect-error
    refused(() => spiralAround(through(ends), { away: 3, turn: 2 }));
    // @ts-expect-error
    refused(() => headpiece({ name: "a", parameter: {}, make: () => [] }));
  });

  test("missing options", () => {
    // @ts-expect-error
    refused(() => onHead({ azimuth: 3 }));
    // @ts-expect-error
    refused(() => headpiece({ make: () => [] }));
    // @ts-expect-error
    refused(() => headpiece({ name: "a" }));
    // @ts-expect-error
    refused(() => tube(ends));
    // @ts-expect-error
    refused(() => band("ring", through(ends)));
    // @ts-expect-error
    refused(() => helix({ from: [0, 0, 0], radius: 3, turns: 2 }));
    // @ts-expect-error
    refused(() => combSlot("comb", { at: [0, 90, 40], width: 30, depth: 4 }));
    // @ts-expect-error
    refused(() => socket("stone", { at: [0, 90, 40], diameter: 8 }));
  });

  test("wrong units and words", () => {
    // @ts-expect-error
    refused(() => length(3, { inches: 2 }));
    // @ts-expect-error
    refused(() => headpiece({ name: "a", ease: { cm: 1 }, make: () => [] }));
    // @ts-expect-error
    refused(() => tube("a", ends, { radius: "3mm" }));
    // @ts-expect-error
    refused(() => tube("a", ends, { tip: "sharp" }));
    // @ts-expect-error
    refused(() => choice(["calm", "storm"], { preset: "strom" }));
    // @ts-expect-error
    refused(() => solid("a", "ball"));
    // @ts-expect-error
    refused(() => through([[0, 9]]));
  });

  test("misspelt parameters, names of the head and regions", () => {
    const broken = headpiece({
      name: "a",
      parameters: { branches: count(3) },
      // @ts-expect-error
      make: ({ parameters: { branchs } }) =>
        tube("a", [
          [0, 0, 0],
          [0, 0, branchs],
        ]),
    });
    expect(broken.name).toBe("a");
    // @ts-expect-error
    expect(() => run(({ head }) => tube("a", [head.landmarks.crwn, [0, 0, 9]]))).toThrow();
    // @ts-expect-error
    expect(() => run(({ head }) => band("a", head.girthline, { radius: 3 }))).toThrow();
    // @ts-expect-error
    expect(() => run(({ head }) => head.scatter("crwn", { spacing: 9 }))).toThrow();
  });

  test("a value is of the parameter's own kind", () => {
    headpiece({
      name: "a",
      parameters: { mood: choice(["calm", "storm"]), branches: count(3) },
      make({ parameters: { mood, branches } }) {
        const three: number = branches;
        const word: "calm" | "storm" = mood;
        // @ts-expect-error
        const wrong: "flood" = mood;
        return tube(`${three} ${word} ${wrong}`, ends);
      },
    });
  });

  test("parts are parts and points do not change", () => {
    // @ts-expect-error
    expect(() => run(() => 3)).toThrow();
    // @ts-expect-error
    expect(() => run(async () => tube("a", ends))).toThrow();
    const raise = (point: Point) => {
      // @ts-expect-error
      point.z = 3;
    };
    expect(raise).toBeTypeOf("function");
  });
});
