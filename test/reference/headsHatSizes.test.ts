import { describe, expect, it } from "vitest";
import { formatHatSize, girthOfHatSize, hatSizeOfGirth, parseHatSize } from "../../src/head/index";

/** A milliner's chart: head girth in cm and the US size. */
const CHART: readonly (readonly [number, string])[] = [
  [54, "6 3/4"],
  [55, "6 7/8"],
  [56, "7"],
  [57, "7 1/8"],
  [58, "7 1/4"],
  [59, "7 3/8"],
  [60, "7 1/2"],
];

describe("hat sizes", () => {
  it.each(CHART)("%d cm is US %s on a milliner's chart", (cm, us) => {
    expect(formatHatSize(hatSizeOfGirth(cm * 10, "US"))).toBe(`US ${us}`);
    expect(hatSizeOfGirth(cm * 10, "metric")).toEqual({ system: "metric", size: cm });
    // UK = US less 1/8.
    expect(hatSizeOfGirth(cm * 10, "UK").size).toBeCloseTo(hatSizeOfGirth(cm * 10, "US").size - 1 / 8, 12);
    // Back to a girth within half a size, about 5 mm.
    expect(Math.abs(girthOfHatSize(parseHatSize(`US ${us}`)) - cm * 10)).toBeLessThan(5.1);
  });

  it("reads what hatters write", () => {
    for (const text of ["US 7 1/4", "7 1/4", "7¼", "7-1/4", "US 7.25", "us7 1/4", "7 2/8"]) {
      expect(parseHatSize(text)).toEqual({ system: "US", size: 7.25 });
    }
    expect(parseHatSize("58")).toEqual({ system: "metric", size: 58 });
    expect(parseHatSize("58 cm")).toEqual({ system: "metric", size: 58 });
    expect(parseHatSize(57.5)).toEqual({ system: "metric", size: 57.5 });
    expect(parseHatSize("UK 7 1/8")).toEqual({ system: "UK", size: 7.125 });
    expect(girthOfHatSize(parseHatSize("UK 7 1/8"))).toBeCloseTo(girthOfHatSize(parseHatSize("US 7 1/4")), 9);
    expect(parseHatSize("7 1/8", "UK")).toEqual({ system: "UK", size: 7.125 });
  });

  it("refuses what is no hat size, with what would be right", () => {
    expect(() => parseHatSize("L")).toThrow(/letters vary by maker/);
    expect(() => parseHatSize("seven")).toThrow(/no hat size/);
    expect(() => parseHatSize("US 58")).toThrow(/outside the US sizes/);
    expect(() => parseHatSize("US 7.3")).toThrow(/eighths/);
    expect(() => parseHatSize("US 58 cm")).toThrow(/contradicts/);
    expect(() => parseHatSize("7 9/8")).toThrow(/no hat size/);
    expect(() => parseHatSize("-7")).toThrow(/no hat size/);
    expect(() => parseHatSize("")).toThrow(/no hat size/);
  });
});
