import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  differences,
  fileValue,
  isAllowed,
  labelOf,
  noParameters,
  problemOf,
  reset,
  set,
  shownValue,
  sliderRange,
  told,
} from "../../../src/preview/panel/parameterValues";
import { declarations, design, values } from "./rig";

const [branches, reach, sweep, mood, veil] = declarations;
const start = told(noParameters, design(1), false);

describe("values of the controls", () => {
  test("are the told ones, and nothing differs", () => {
    expect(shownValue(start, "reach")).toBe(92.5);
    expect(differences(start)).toEqual({});
  });

  test("only what differs from the file goes out", () => {
    const moved = set(set(start, "branches", 12), "veil", true);
    expect(differences(moved)).toEqual({ branches: 12 });
    expect(differences(set(moved, "branches", 9))).toEqual({});
  });

  test("values that were moved before a reload differ too", () => {
    const reloaded = told(noParameters, design(5, { values: { ...values, mood: "storm" } }), false);
    expect(differences(reloaded)).toEqual({ mood: "storm" });
  });

  test("a control does not jump back while an older build reports", () => {
    const moved = set(start, "branches", 14);
    const late = told(moved, design(2, { values: { ...values, branches: 11 } }), false);
    expect(shownValue(late, "branches")).toBe(14);
    const caughtUp = told(late, design(3, { values: { ...values, branches: 14 } }), false);
    expect(caughtUp.held).toEqual({});
    // From here on the extension has the word again.
    expect(shownValue(told(caughtUp, design(4), false), "branches")).toBe(9);
  });

  test("what the file newly says wins over what was moved", () => {
    const moved = set(set(start, "branches", 14), "mood", "storm");
    const written = told(
      moved,
      design(2, { fileValues: { ...values, branches: 20 }, values: { ...values, branches: 20 } }),
      false,
    );
    expect(shownValue(written, "branches")).toBe(20);
    expect(shownValue(written, "mood")).toBe("storm");
  });

  test("a value that the new declaration does not allow is let go, and so is all of another design", () => {
    const moved = set(start, "branches", 20);
    const fewer = declarations.map((one) => (one.name === "branches" ? { ...one, most: 12 } : one));
    expect(shownValue(told(moved, design(2, { parameters: fewer }), false), "branches")).toBe(9);
    expect(shownValue(told(moved, design(2), true), "branches")).toBe(9);
  });

  test("a reset goes back to the file, also past a build that still reports the moved ones", () => {
    const moved = told(start, design(2, { values: { ...values, branches: 14, veil: false } }), false);
    const back = reset(moved);
    expect(differences(back)).toEqual({});
    const late = told(back, design(3, { values: { ...values, branches: 14 } }), false);
    expect(shownValue(late, "branches")).toBe(9);
  });

  test("a name like one of an object's own is no value", () => {
    const odd = [{ ...branches, name: "toString" }];
    const state = told(noParameters, design(1, { parameters: odd, values: {}, fileValues: {} }), false);
    expect(shownValue(state, "toString")).toBe(9);
    expect(fileValue(state, "toString")).toBe(9);
  });
});

describe("what is allowed", () => {
  test.each([
    [branches, 9, true],
    [branches, 9.5, false],
    [branches, 2, false],
    [branches, 25, false],
    [reach, 92.5, true],
    [reach, Number.NaN, false],
    [sweep, -400, true],
    [mood, "storm", true],
    [mood, "gale", false],
    [veil, false, true],
    [veil, "false", false],
    [branches, "9", false],
  ])("%j: %j is %s", (declaration, value, allowed) => {
    expect(isAllowed(declaration, value)).toBe(allowed);
  });

  test("the problem names the limit with its unit", () => {
    expect(problemOf(reach, 200)).toBe("At most 160 mm.");
    expect(problemOf(reach, 1)).toBe("At least 20 mm.");
    expect(problemOf({ ...sweep, most: 90 }, 91)).toBe("At most 90°.");
    expect(problemOf(branches, 4.2)).toBe("Enter a whole number.");
    expect(problemOf(branches, 3)).toBeUndefined();
  });
});

describe("sliders", () => {
  test("need two ends; an angle has its own", () => {
    expect(sliderRange({ ...reach, most: undefined })).toBeUndefined();
    expect(sliderRange({ ...reach, least: 5, most: 5 })).toBeUndefined();
    expect(sliderRange(sweep)).toEqual({ least: -180, most: 180, step: 1 });
    expect(sliderRange(branches)).toEqual({ least: 3, most: 24, step: 1 });
    expect(sliderRange(reach)).toEqual({ least: 20, most: 160, step: 0.5 });
  });

  test("the default lies on a step, and there are places to go to", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -2000, max: 2000 }),
        fc.integer({ min: 1, max: 30000 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (from, hundredths, share) => {
          const least = from / 10;
          const most = least + hundredths / 100;
          const preset = Math.round((least + share * (most - least)) * 100) / 100;
          const range = sliderRange({ ...reach, least, most, default: preset });
          if (range === undefined) throw new Error("a slider with two ends was refused");
          const steps = (preset - least) / range.step;
          expect(Math.abs(steps - Math.round(steps))).toBeLessThan(1e-5);
          expect(range.step).toBeLessThanOrEqual(Math.max(0.01, most - least));
        },
      ),
    );
  });
});

test.each([
  ["branches", "Branches"],
  ["sweepAngle", "Sweep angle"],
  ["tip_radius", "Tip radius"],
  ["row2Count", "Row2 count"],
  ["_", "_"],
])("%s is shown as %s", (name, label) => {
  expect(labelOf(name)).toBe(label);
});
