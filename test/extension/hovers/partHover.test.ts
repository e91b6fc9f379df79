import { expect, test } from "vitest";
import type { PartSummary } from "../../../src/build/service/protocol";
import type { DesignState } from "../../../src/extension/designState";
import { partHover, partsAt } from "../../../src/extension/hovers/partHover";
import { plainTexts } from "../plainTexts";
import { builtState } from "../states";

const file = "/court/coral-crown.headpiece.ts";
const part = (
  name: string,
  line: number,
  column: number,
  change: Partial<PartSummary> = {},
): PartSummary => ({
  name,
  kind: "tube",
  length: 90,
  radius: [2.5, 7],
  origin: { file, line, column },
  ...change,
});
const state = (parts: PartSummary[]): DesignState =>
  builtState({ facts: { parts } as unknown as DesignState["facts"] });
const crown = state([
  part("ring", 10, 18, { length: 590.4, radius: [6, 6] }),
  part("branch 1", 12, 7),
  part("branch 2", 12, 7, { length: 120, radius: [3, 8] }),
  part("slot", 14, 5, { kind: "cut", length: undefined, radius: undefined }),
]);
const at = (line: number, column: number, where = file) =>
  partsAt(crown, { file: where, line, column }, (one) => one === where);

test("one tube: name, length, radius, mass and its share", () => {
  expect(partHover(at(10, 18), false, plainTexts)).toBe(
    "**ring** · tube  \n590 mm long · radius 6 mm · 64.8 g, 50 % of the piece",
  );
});

test("a call in a loop: how many, ranges and sums", () => {
  expect(partHover(at(12, 7), false, plainTexts)).toBe(
    [
      "**2 tubes**: branch 1, branch 2",
      "90–120 mm long, 0.21 m together · radius 2.5–8 mm · 64.8 g together, 50 % of the piece",
      "heaviest: branch 2, 38.9 g",
    ].join("  \n"),
  );
});

test("many are told by the first and the last", () => {
  const many = state(Array.from({ length: 66 }, (_, i) => part(`reed ${i + 1}`, 3, 3)));
  const said = partHover(
    partsAt(many, { file, line: 3, column: 3 }, () => true),
    false,
    plainTexts,
  );
  expect(said).toContain("**66 tubes**: reed 1, reed 2 … reed 66");
});

test("a cut has no mass of its own and an unbuilt piece none yet", () => {
  expect(partHover(at(14, 5), false, plainTexts)).toBe("**slot** · cut");
});

test("other calls, other columns and other files are not meant", () => {
  expect(at(12, 8)).toEqual([]);
  expect(at(11, 7)).toEqual([]);
  expect(at(12, 7, "/court/parts/antler.ts")).toEqual([]);
});

test("what is older than the text says so", () => {
  expect(partHover(at(14, 5), true, plainTexts)).toContain("the text has changed since");
});
