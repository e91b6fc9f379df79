import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { FindingMark } from "../../../src/preview/pieceView";
import { mostMarks, sharedReach, thinned } from "../../../src/preview/scene/markThinning";

const mark = (text: string, severity: FindingMark["severity"], x?: number): FindingMark => ({
  part: -1,
  severity,
  text,
  ...(x !== undefined && { at: [x, 0, 0] }),
});
const texts = (marks: readonly FindingMark[]) => marks.map(({ text }) => text);

describe("thinned marks", () => {
  test("near ones share that of the worst, whatever came first; the order stays", () => {
    const found = thinned([mark("a", "note", 0), mark("b", "error", 9), mark("c", "warning", 60)]);
    expect(texts(found.map((one) => one.mark))).toEqual(["b", "c"]);
    expect(texts(found[0].others)).toEqual(["a"]);
  });

  test("marks of a part, without a place of their own, stay by themselves", () => {
    const found = thinned([mark("a", "note"), mark("b", "note"), mark("c", "note", 0)]);
    expect(found.every(({ others }) => others.length === 0)).toBe(true);
    expect(found).toHaveLength(3);
  });

  test("of too many the errors stay", () => {
    const many = Array.from({ length: 60 }, (_, i) => mark(`n${i}`, "note", 40 * i));
    const found = thinned([...many, mark("e", "error", 9000)]);
    expect(found).toHaveLength(mostMarks);
    expect(texts(found.map((one) => one.mark))).toContain("e");
  });

  test("none is lost, none is doubled, and a worse one never hides behind a lesser", () => {
    const severity = fc.constantFrom("error", "warning", "note");
    const place = fc.option(fc.integer({ min: -120, max: 120 }), { nil: undefined });
    const order = { error: 0, warning: 1, note: 2 };
    fc.assert(
      fc.property(fc.array(fc.tuple(severity, place), { maxLength: 80 }), (given) => {
        const marks = given.map(([kind, x], i) => mark(String(i), kind as FindingMark["severity"], x));
        const found = thinned(marks);
        expect(found.length).toBeLessThanOrEqual(mostMarks);
        const all = found.flatMap((one) => [one.mark, ...one.others]);
        const placed = all.filter(({ at }) => at);
        expect(new Set(all).size).toBe(all.length);
        // Without a place there may be none to join.
        if (marks.length <= mostMarks || placed.length === marks.length)
          expect(all).toHaveLength(marks.length);
        for (const { mark: kept, others } of found) {
          for (const other of others)
            expect(order[other.severity]).toBeGreaterThanOrEqual(order[kept.severity]);
        }
        const places = found.flatMap((one) => (one.mark.at ? [one.mark.at[0]] : [])).sort((a, b) => a - b);
        for (let i = 1; i < places.length; i++) {
          expect(places[i] - places[i - 1]).toBeGreaterThanOrEqual(sharedReach);
        }
      }),
    );
  });
});
