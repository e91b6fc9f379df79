import { describe, expect, it } from "vitest";
import { byLine, type Finding, joinedByLine, quoted } from "../../src/checks/finding";
import { partOf } from "./wornBodies";

const finding = (id: string, text: string, line?: number): Finding => ({
  id,
  check: "strength",
  severity: "warning",
  text,
  value: 1,
  unit: "mm",
  ...(line !== undefined && { file: "tide.headpiece.ts", line, column: 3 }),
});

describe("findings", () => {
  it("of one kind and one line are one, with the others as notes; order and other lines stay", () => {
    const found = joinedByLine([
      finding("thin-wall", "reed 1 is thin", 7),
      finding("thin-neck", "reed 1 hangs", 7),
      finding("thin-wall", "stalk is thin", 9),
      finding("thin-wall", "reed 2 is thin", 7),
      finding("thin-wall", "no line"),
      finding("thin-wall", "no line either"),
    ]);
    expect(found.map(({ text }) => text)).toEqual([
      "reed 1 is thin; and 1 more like it from this line",
      "reed 1 hangs",
      "stalk is thin",
      "no line",
      "no line either",
    ]);
    expect(found[0].notes).toEqual([{ text: "reed 2 is thin" }]);
  });

  it("of many parts name six, and how many more there are", () => {
    const [joined] = joinedByLine(Array.from({ length: 40 }, (_, i) => finding("thin-wall", `reed ${i}`, 7)));
    expect(joined.text).toBe("reed 0; and 39 more like it from this line");
    expect(joined.notes).toHaveLength(7);
    expect(joined.notes?.at(-1)?.text).toBe("and 33 more");
  });

  it("quote names, the first of many", () => {
    expect(quoted(["a"])).toBe('"a"');
    expect(quoted(["a", "b"])).toBe('"a" and "b"');
    expect(quoted(["a", "b", "c", "d", "e", "f"])).toBe('"a", "b", "c" and 3 more');
    expect(quoted([])).toBe("");
  });

  it("parts without a line each stand alone", () => {
    const parts = [partOf("a", 1), partOf("b", 2), partOf("c", 1), undefined, undefined];
    expect(byLine(parts, (part) => part).map((group) => group.length)).toEqual([2, 1, 1, 1]);
  });
});
