import { describe, expect, test } from "vitest";
import { dimensionLines } from "../../../src/preview/scene/dimensionLayout";

const box = { least: [-90, -100, 20], most: [90, 115.37, 168] } as const;
/** Seen from the front, one pixel a mm: right is −X, down is −Z. */
const front = ([x, , z]: readonly [number, number, number]) => ({ x: 400 - x, y: 300 - z });
/** A picture from above one corner. */
const oblique = ([x, y, z]: readonly [number, number, number]) => ({
  x: 400 - 0.8 * x + 0.5 * y,
  y: 400 + 0.3 * x + 0.4 * y - 0.8 * z,
});

describe("dimensionLines", () => {
  test("tells each extent in mm", () => {
    const texts = dimensionLines(box, oblique).map(({ axis, text }) => [axis, text]);
    expect(texts).toEqual([
      ["width", "180.0 mm"],
      ["depth", "215.4 mm"],
      ["height", "148.0 mm"],
    ]);
  });

  test("leaves out what is looked at end on", () => {
    expect(dimensionLines(box, front).map(({ axis }) => axis)).toEqual(["width", "height"]);
  });

  test("lines stand outside the picture of the box, as long as the edge they measure", () => {
    const [width, height] = dimensionLines(box, front);
    expect(width.from.y).toBeGreaterThan(300 - 20);
    expect(Math.abs(width.to.x - width.from.x)).toBeCloseTo(180, 9);
    expect(Math.abs(height.to.y - height.from.y)).toBeCloseTo(148, 9);
    expect(Math.abs(height.from.x - 400)).toBeGreaterThan(90);
    expect(Math.abs(height.label.x - 400)).toBeGreaterThan(Math.abs(height.from.x - 400));
  });
});
