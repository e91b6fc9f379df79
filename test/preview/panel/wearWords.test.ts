import { describe, expect, test } from "vitest";
import { makeVerdictTeller } from "../../../src/preview/panel/speech";
import { sentences } from "../../../src/preview/panel/textEquivalent";
import { marksOf } from "../../../src/preview/panel/walk";
import { fieldText, gapText, verdictText, wayText } from "../../../src/preview/panel/wearWords";
import { loose, parts, sharp, wearMark } from "./rig";

describe("the verdict in words", () => {
  test.each([
    [undefined, ""],
    [{ word: "wear", reasons: [] } as const, "Fit and wear: wear."],
    [
      { word: "dont", reasons: ["it does not pass."] } as const,
      "Fit and wear: don't wear: it does not pass.",
    ],
    [
      { word: "adjust", reasons: ["a", "b", "c", "d", "e"] } as const,
      "Fit and wear: adjust first: a; b; c; and 2 more reasons.",
    ],
  ])("%#", (verdict, words) => {
    expect(verdictText(verdict)).toBe(words);
  });

  test("is spoken when it comes and when it changes, and not again", () => {
    const tell = makeVerdictTeller();
    expect(tell("a", "")).toBeUndefined();
    expect(tell("a", "wear")).toBe("wear");
    expect(tell("a", "wear")).toBeUndefined();
    expect(tell("a", "")).toBeUndefined();
    expect(tell("a", "wear")).toBeUndefined();
    expect(tell("a", "adjust")).toBe("adjust");
    expect(tell("b", "adjust")).toBe("adjust");
  });
});

test("a gap under the pointer", () => {
  expect([3.24, 0, 14.6, -1.42, -0.001].map(gapText)).toEqual([
    "gap 3.2 mm",
    "gap 0 mm",
    "gap 15 mm",
    "enters by 1.42 mm",
    "gap 0 mm",
  ]);
});

test("a field for who does not see its colours", () => {
  expect(fieldText("Gap to the head", { least: -1.23, median: 2.41, most: 61 })).toBe(
    "Gap to the head at the points of the piece: least −1.2 mm, median 2.4 mm, greatest 61 mm.",
  );
  expect(fieldText("Gap to the head", undefined)).toMatch(/no point/);
});

test("where the piece is on its way", () => {
  expect([0, 0.42, 1].map(wayText)).toEqual(["off the head", "42 percent of the way on", "on the head"]);
});

test("sentences keep one stop each", () => {
  expect(sentences("a", undefined, "", "b.", "c")).toBe("a. b. c");
  expect(sentences(undefined)).toBe("");
});

describe("marks of fit and wear", () => {
  test("what a finding tells too is marked once, at the place that is known", () => {
    const same = wearMark({ text: loose.text, part: "branch 1", at: [1, 2, 3] });
    const place = { file: "/stage/coral.headpiece.ts", line: 15, column: 7 };
    expect(marksOf([loose, sharp], [{ ...same, place }], parts)).toEqual([
      { part: 1, severity: "warning", text: loose.text, at: [1, 2, 3], place },
      { part: 2, severity: "warning", text: sharp.text },
    ]);
  });

  test("two findings of one text have a place each", () => {
    const two = [wearMark({ text: sharp.text, part: "branch 2", at: [1, 0, 0] })];
    const other = wearMark({ text: sharp.text, part: "branch 2", at: [9, 0, 0] });
    const marks = marksOf([sharp, { ...sharp }], [...two, other], parts);
    expect(marks.map(({ at }) => at?.[0])).toEqual([1, 9]);
  });

  test("others are added, also of no part or of one that is gone", () => {
    const marks = marksOf([], [wearMark({ part: undefined }), wearMark({ part: "gone" })], parts);
    expect(marks.map(({ part, at }) => [part, at])).toEqual([
      [-1, [10, 20, 30]],
      [-1, [10, 20, 30]],
    ]);
  });
});
