import { describe, expect, test } from "vitest";
import { buildWords } from "../../../src/preview/panel/buildStrip";
import { inReadingOrder } from "../../../src/preview/panel/findingsList";
import { lengthText, massText, plainNumber, radiusText } from "../../../src/preview/panel/numbers";
import { matching } from "../../../src/preview/panel/partsList";
import { makeBuildTeller } from "../../../src/preview/panel/speech";
import {
  foundText,
  partText,
  placeText,
  textEquivalent,
  wholePlace,
} from "../../../src/preview/panel/textEquivalent";
import { findingOf, marksOf, stepped } from "../../../src/preview/panel/walk";
import { design, loose, parts, sharp, state, tall, thrown } from "./rig";

describe("the picture in words", () => {
  test("a finished build", () => {
    expect(textEquivalent(design(1), state(1, "ready", { messages: [loose, sharp, tall] }))).toBe(
      "Coral crown on Kelp Queen: mass 84 g printed, box 212 × 198 × 140 mm, plate fits as designed; 2 warnings",
    );
  });

  test("a failed one says why and where, and that the model is old", () => {
    const failed = state(2, "failed", { messages: [tall, thrown], isOutdated: true });
    expect(textEquivalent(design(1), failed)).toBe(
      "Coral crown on Kelp Queen: the build failed: fronds is not a function, kelp.ts line 8. The model shown is out of date.",
    );
  });

  test("nothing known is nothing said; no facts and no wearer leave no hole", () => {
    expect(textEquivalent(undefined, state(1, "building"))).toBe("");
    expect(textEquivalent(design(1, { facts: [], wearer: "" }), undefined)).toBe("Coral crown");
  });

  test("is told once for each finished build, not while it goes on", () => {
    const tell = makeBuildTeller();
    expect(tell("building", 1, "a crown")).toBeUndefined();
    expect(tell("ready", 1, "a crown")).toBe("a crown");
    expect(tell("ready", 1, "a crown")).toBeUndefined();
    expect(tell("ready", 2, "a crown")).toBe("a crown");
    expect(tell("failed", 3, "it failed")).toBe("it failed");
    expect(tell("ready", 4, "")).toBeUndefined();
  });
});

test.each([
  [[], ""],
  [[tall], "1 note"],
  [[loose, sharp, tall], "2 warnings"],
  [[thrown, loose], "1 error, 1 warning"],
])("what was found: %#", (messages, text) => {
  expect(foundText(messages)).toBe(text);
});

test("a part in words", () => {
  expect(partText(parts[0])).toBe("ring, tube, 583 mm long, radius 6 mm, 31 g");
  expect(partText(parts[1])).toBe("branch 1, tube, 98 mm long, radius 2.5 to 7 mm");
  expect(partText(parts[3])).toBe("veil hole, cut");
});

test("numbers", () => {
  expect([plainNumber(2.04), plainNumber(-3.25, 2), plainNumber(-0.01), plainNumber(12, 0)]).toEqual([
    "2",
    "−3.25",
    "0",
    "12",
  ]);
  expect([lengthText(19.96), lengthText(4.25), lengthText(212.4)]).toEqual(["20 mm", "4.3 mm", "212 mm"]);
  expect([massText(4.61), massText(84.4)]).toEqual(["4.6 g", "84 g"]);
  expect(radiusText([2.5, 2.52])).toBe("2.5 mm");
});

test("places", () => {
  expect(placeText(thrown)).toBe("kelp.ts:8:22");
  expect(wholePlace({ file: "a.ts", line: 3 })).toEqual({ file: "a.ts", line: 3, column: 1 });
  expect(wholePlace({ line: 3 })).toBeUndefined();
});

describe("findings", () => {
  test("the worst first, else as they came", () => {
    expect(inReadingOrder([tall, loose, thrown, sharp])).toEqual([thrown, loose, sharp, tall]);
  });

  test("marks stand for the findings of parts, and lead back to them", () => {
    const findings = [thrown, loose, sharp, tall, { ...tall, part: "gone" }];
    const marks = marksOf(findings, [], parts);
    expect(marks).toEqual([
      { part: 1, severity: "warning", text: loose.text },
      { part: 2, severity: "warning", text: sharp.text },
    ]);
    expect(findingOf(marks[1], findings, parts)).toBe(sharp);
    expect(findingOf({ ...marks[1], part: 0 }, findings, parts)).toBeUndefined();
  });

  test("walking goes round", () => {
    expect([
      stepped(-1, 1, 3),
      stepped(-1, -1, 3),
      stepped(2, 1, 3),
      stepped(0, -1, 3),
      stepped(0, 1, 0),
    ]).toEqual([0, 2, 0, 2, -1]);
  });
});

test("searching parts: every word, in any order and case", () => {
  expect(matching(parts, "")).toEqual([0, 1, 2, 3]);
  expect(matching(parts, "  BRANCH ")).toEqual([1, 2]);
  expect(matching(parts, "2 bran")).toEqual([2]);
  expect(matching(parts, "cut")).toEqual([3]);
  expect(matching(parts, "kelp")).toEqual([]);
});

describe("the strip", () => {
  test.each([
    [undefined, "Waiting for a design", undefined],
    [state(1, "idle"), "Not built yet", "build"],
    [state(1, "building", { stage: "uniting", share: 0.432 }), "Uniting · 43 %", "cancel"],
    [state(1, "building"), "Building", "cancel"],
    [state(1, "ready"), "Built", undefined],
    [state(1, "ready", { messages: [loose] }), "Built · 1 warning", undefined],
    [state(1, "ready", { isOutdated: true }), "Out of date", "build"],
    [state(1, "failed", { messages: [thrown] }), "Build failed · 1 error", "problems"],
    [state(1, "cancelled"), "Build cancelled", "build"],
  ])("%#", (build, text, action) => {
    const words = buildWords(build);
    expect(words.text).toBe(text);
    expect(words.action?.id).toBe(action);
  });
});
