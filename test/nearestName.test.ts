import { expect, test } from "vitest";
import { didYouMean, editDistance, nearestName } from "../src/nearestName";

test.each([
  // Worked examples of the literature: Wagner and Fischer 1974 (insert, delete, replace), Damerau 1964 (swap);
  // values from memory, each checked by hand.
  ["kitten", "sitting", 3],
  ["saturday", "sunday", 3],
  ["ca", "abc", 3],
  ["lenght", "length", 1],
  ["", "girth", 5],
  ["girth", "", 5],
  ["Girth", "gIRTH", 0],
])("%s to %s takes %i edits", (a, b, edits) => {
  expect(editDistance(a, b)).toBe(edits);
  expect(editDistance(b, a)).toBe(edits);
});

const keys = ["name", "units", "girth", "length", "breadth", "crownHeight", "hatSize"];

test.each([
  ["grith", "girth"],
  ["GIRTH", "girth"],
  ["lenght", "length"],
  ["bredth", "breadth"],
  ["crown", "crownHeight"],
  ["crown_height", "crownHeight"],
  ["hat", "hatSize"],
  ["xyz", undefined],
  ["a", undefined],
  ["", undefined],
  ["colour", undefined],
])("%s is most likely %s", (written, meant) => {
  expect(nearestName(written, keys)).toBe(meant);
});

test("the first of equally near names", () => {
  expect(nearestName("tip1", ["tip2", "tip3"])).toBe("tip2");
});

test("a sentence for a message", () => {
  expect(didYouMean("grith", keys)).toBe('did you mean "girth"?');
  expect(didYouMean("xyz", keys)).toBeUndefined();
});
