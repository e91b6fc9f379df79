import { describe, expect, test } from "vitest";
import {
  cut,
  group,
  type Make,
  mirrored,
  onHead,
  type Parts,
  prop,
  repeatedAround,
  tube,
} from "../../src/design";
import { runDesign } from "../../src/design/run";
import { errorInMake, errorOf, near, run, stand } from "./rig";

/** What `prop` gives out, and what it refuses. */

type None = Record<never, never>;
const horn = () =>
  tube(
    "horn",
    [
      [40, 0, 120],
      [60, 0, 200],
      [100, 0, 180],
    ],
    { radius: [6, 3] },
  );
const errorOfRun = (make: (given: Make<None>) => Parts) => errorOf(() => run(make));

describe("props of a design", () => {
  test("are no parts, and stand beside them as plain data", () => {
    const result = run(() => {
      const own = horn();
      return [own, [prop("tip", own.at(1), { neck: 1.5, thickness: 4, foot: 14 })], prop("free", [1, 2, 3])];
    });
    expect(result.parts.map(({ name }) => name)).toEqual(["horn"]);
    expect(result.props?.map(({ name }) => name)).toEqual(["tip", "free"]);
    const [tip, free] = result.props!;
    near(tip.at, [100, 0, 180], 1e-6);
    expect(tip).toMatchObject({ neck: 1.5, thickness: 4, foot: 14 });
    expect(free).toEqual({ name: "free", at: [1, 2, 3] });
    expect(structuredClone(result.props)).toEqual(result.props);
  });

  test("a design without props says nothing of them", () => {
    expect("props" in run(() => stand())).toBe(false);
  });

  test("may be under any kind of place", () => {
    const result = run(({ head }) => {
      const own = horn();
      return [
        own,
        prop("on the path", own.at(0.5)),
        prop("on the head", onHead({ azimuth: 20, elevation: 40, lift: 10 })),
        prop("landmark", head.landmarks.crown.moved({ up: 20 })),
        prop("beside", own.at(0.9).offset({ along: -2 })),
      ];
    });
    expect(result.props).toHaveLength(4);
    for (const { at } of result.props!) expect(at.every(Number.isFinite)).toBe(true);
  });

  test("go with the parts of a group, a mirrored one and a repeated one", () => {
    const result = run(() => {
      const own = horn();
      const both = group("right", [own, prop("tip", own.at(1), { neck: 2 })]);
      return [both, mirrored(both)];
    });
    expect(result.props?.map(({ name }) => name)).toEqual(["right: tip", "right: tip mirrored"]);
    near(result.props![1].at, [-100, 0, 180], 1e-6);
    expect(result.props![1].neck).toBe(2);

    const around = run(() => repeatedAround([horn(), prop("tip", [100, 0, 180])], 4));
    expect(around.props).toHaveLength(4);
    near(around.props![2].at, [-100, 0, 180], 1e-6);
    expect(around.props!.every(({ at }) => Math.abs(Math.hypot(at[0], at[1]) - 100) < 1e-6)).toBe(true);
  });
});

describe("props that are refused", () => {
  const end = [0, 0, 100] as const;
  test("a name that is none", () => {
    expect(errorInMake(() => prop("", [0, 0, 1]))).toMatchObject({ id: "not-a-text" });
    // @ts-expect-error
    expect(errorInMake(() => prop([0, 0, 1]))).toMatchObject({ id: "not-a-text" });
  });

  test("a place that is none", () => {
    // @ts-expect-error
    expect(errorInMake(() => prop("a", "horn"))).toMatchObject({ id: "not-a-point" });
    // @ts-expect-error
    expect(errorInMake(() => prop("a", horn()))).toMatchObject({ id: "not-a-point" });
    expect(errorInMake(() => prop("a", [0, Number.NaN, 1])).text).toContain("NaN");
  });

  test("sizes that are none or out of range", () => {
    expect(errorInMake(() => prop("a", end, { neck: 0.1 }))).toMatchObject({
      id: "out-of-range",
      text: 'neck of prop "a" is 0.1',
      suggestion: "give a number of at least 0.4 and of at most 10",
    });
    expect(errorInMake(() => prop("a", end, { thickness: 60 })).text).toBe('thickness of prop "a" is 60');
    // @ts-expect-error
    expect(errorInMake(() => prop("a", end, { foot: "wide" }))).toMatchObject({ id: "not-a-number" });
  });

  test("an option that is misspelt", () => {
    // @ts-expect-error
    expect(errorInMake(() => prop("a", end, { nek: 2 }))).toMatchObject({
      id: "unknown-option",
      suggestion: expect.stringContaining("neck"),
    });
  });

  test("one that narrows towards the plate", () => {
    expect(errorInMake(() => prop("a", end, { neck: 5, thickness: 3 }))).toMatchObject({
      id: "prop-narrows",
      text: 'neck of prop "a" is 5, wider than its thickness of 3',
    });
    expect(errorInMake(() => prop("a", end, { thickness: 20, foot: 8 })).id).toBe("prop-narrows");
    expect(errorInMake(() => prop("a", end, { neck: 9, foot: 8 })).id).toBe("prop-narrows");
  });

  test("two of one name, and one named as a part", () => {
    expect(errorOfRun(() => [stand(), prop("a", end), prop("a", end)]).text).toBe('two props are named "a"');
    expect(errorOfRun(() => [stand(), prop("stand", end)])).toMatchObject({
      id: "two-parts-of-one-name",
      text: 'a part and a prop are both named "stand"',
    });
  });

  test("nothing to hold up", () => {
    expect(errorOfRun(() => prop("a", end))).toMatchObject({
      id: "no-parts",
      text: "make gives back props only",
    });
  });

  test("a cut that is to be taken from a prop", () => {
    // @ts-expect-error
    const act = () => cut("slot", tube("slot", [[0, 0, 1], end]), { from: prop("a", end) });
    expect(errorInMake(act)).toMatchObject({ id: "not-a-part" });
  });

  test("something that is neither part nor prop", () => {
    const wrong = { name: "x", make: () => [{ name: "a", at: end }] };
    expect(errorOf(() => run(wrong.make as never)).suggestion).toContain("props");
    expect(() => runDesign(wrong, { head: {} as never, values: {} })).toThrow();
  });
});
