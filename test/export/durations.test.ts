import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { hoursAndMinutes, hoursBand, metresText } from "../../src/export/durations";

describe("hoursAndMinutes", () => {
  it("says a duration to the minute", () => {
    expect(hoursAndMinutes(45_000)).toBe("12 h 30 min");
    expect(hoursAndMinutes(10_800)).toBe("3 h");
    expect(hoursAndMinutes(2700)).toBe("45 min");
    expect(hoursAndMinutes(40)).toBe("40 s");
    expect(hoursAndMinutes(0)).toBe("0 s");
    expect(hoursAndMinutes(3_960_000)).toBe("1,100 h");
  });

  it("never says 60 minutes or 60 seconds", () => {
    expect(hoursAndMinutes(59.6)).toBe("1 min");
    expect(hoursAndMinutes(3599)).toBe("1 h");
    expect(hoursAndMinutes(7199.9)).toBe("2 h");
  });

  it("is never farther off than half a minute", () => {
    fc.assert(
      fc.property(fc.double({ min: 60, max: 2e6, noNaN: true }), (seconds) => {
        const [, hours = "0", minutes = "0"] =
          /^(?:([\d,]+) h)? ?(?:(\d+) min)?$/.exec(hoursAndMinutes(seconds)) ?? [];
        const said = 3600 * Number(hours.replace(",", "")) + 60 * Number(minutes);
        expect(Math.abs(said - seconds)).toBeLessThanOrEqual(30);
        expect(Number(minutes)).toBeLessThan(60);
      }),
      { seed: 20_261, numRuns: 300 },
    );
  });

  it("refuses what is no duration", () => {
    expect(() => hoursAndMinutes(-1)).toThrow(RangeError);
    expect(() => hoursAndMinutes(Number.NaN)).toThrow(/not NaN/);
  });
});

describe("hoursBand", () => {
  it("rounds outwards", () => {
    expect(hoursBand(12 * 3600, 15 * 3600)).toBe("12 to 15 h");
    expect(hoursBand(12.9 * 3600, 14.1 * 3600)).toBe("12 to 15 h");
    expect(hoursBand(12 * 3600, 12 * 3600)).toBe("12 h");
    expect(hoursBand(3000, 4200)).toBe("50 min to 1 h 10 min");
    expect(hoursBand(3001, 4201)).toBe("50 min to 1 h 15 min");
    expect(hoursBand(1200, 1500)).toBe("20 to 25 min");
    expect(hoursBand(1, 2)).toBe("up to 5 min");
    expect(hoursBand(300, 300)).toBe("5 min");
  });

  it("refuses ends in the wrong order", () => {
    expect(() => hoursBand(2, 1)).toThrow(/lesser end/);
    expect(() => hoursBand(0, Infinity)).toThrow(RangeError);
  });
});

describe("metresText", () => {
  it("has the digits that the length is worth", () => {
    expect(metresText(1234.4)).toBe("1,234 m");
    expect(metresText(99.96)).toBe("100 m");
    expect(metresText(12.44)).toBe("12.4 m");
    expect(metresText(12)).toBe("12 m");
    expect(metresText(0.347)).toBe("0.35 m");
    expect(metresText(0)).toBe("0 m");
  });

  it("refuses what is no length", () => {
    expect(() => metresText(-0.1)).toThrow(RangeError);
    expect(() => metresText(Number.NaN)).toThrow(/not NaN/);
  });
});
