import { describe, expect, it } from "vitest";
import { columnRisk, defaultColumnLimits } from "../../../src/print/support/columnRisk";

describe("the risk of a column", () => {
  const square = (width: number, height: number) =>
    columnRisk({ height, slenderness: height / width, footModulus: width ** 3 / 6 });

  it("by hand: 0.5 N on top of 60 mm against 0.5 MPa on a foot of 4 × 4 mm", () => {
    // 0.5 N × 60 mm = 30 N·mm; section modulus 4³/6 = 10.67 mm³; 2.8 MPa.
    expect(square(4, 60)).toBe("peels");
    // A wall of 4 × 80 mm: 80·4²/6 = 213 mm³; 0.14 MPa. It stands, and is 15 times as tall as it is thick.
    expect(columnRisk({ height: 60, slenderness: 15, footModulus: (80 * 16) / 6 })).toBe("topples");
    // Short, or stout.
    expect(square(1, 20)).toBeUndefined();
    expect(square(6, 60)).toBeUndefined();
    expect(square(5.9, 60)).toBe("peels");
  });

  it("never gets less with height, nor more with width", () => {
    for (let width = 0.5; width < 12; width += 0.5) {
      let failed = false;
      for (let height = 1; height < 200; height += 1) {
        const fails = square(width, height) !== undefined;
        expect(fails || !failed).toBe(true);
        expect(square(width + 0.5, height) === undefined || fails).toBe(true);
        failed = fails;
      }
    }
  });

  it("takes other limits, and refuses what is no number", () => {
    const shape = { height: 30, slenderness: 6, footModulus: 20 };
    expect(columnRisk(shape)).toBeUndefined();
    expect(columnRisk(shape, { ...defaultColumnLimits, slenderness: 5 })).toBe("peels");
    expect(() => columnRisk({ ...shape, footModulus: Number.NaN })).toThrow(/footModulus/);
  });
});
