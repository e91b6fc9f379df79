import { describe, expect, it } from "vitest";
import {
  difference,
  inset,
  intersection,
  outset,
  type Region,
  regionArea,
  regionLoops,
  regionOf,
  regionPerimeter,
  union,
} from "../../src/geometry/regions";

const rectangle = (x0: number, y0: number, x1: number, y1: number) =>
  Float64Array.of(x0, y0, x1, y0, x1, y1, x0, y1);
const hole = (x0: number, y0: number, x1: number, y1: number) =>
  Float64Array.of(x0, y0, x0, y1, x1, y1, x1, y0);

const plate = regionOf([rectangle(0, 0, 40, 30)]);
const frame = regionOf([rectangle(0, 0, 40, 30), hole(10, 10, 30, 20)]);
const expectArea = (region: Region, area: number) => expect(regionArea(region)).toBeCloseTo(area, 6);

describe("regions in closed form", () => {
  it("area and outline, holes taken off and gone round", () => {
    expectArea(plate, 1200);
    expectArea(frame, 1200 - 200);
    expect(regionPerimeter(frame)).toBeCloseTo(140 + 60, 6);
  });

  it("an inset is mitred at the corners that look out, to where a wall is too thin", () => {
    expectArea(inset(plate, 0.45), 39.1 * 29.1);
    // The hole grows at sharp corners.
    expectArea(inset(frame, 2), 36 * 26 - 24 * 14);
    expectArea(inset(frame, 5), 0);
    expectArea(inset(plate, 15), 0);
    expectArea(inset(plate, 0), 1200);
  });

  // Steiner's formula: A + P·b + π·b² for a convex figure.
  it("an outset is round at the corners", () => {
    expect(regionArea(outset(plate, 5))).toBeCloseTo(1200 + 140 * 5 + Math.PI * 25, 0);
    expectArea(outset(plate, 5, "mitred"), 50 * 40);
    // A hole narrower than twice the width closes.
    expectArea(outset(frame, 5, "mitred"), 50 * 40);
  });

  it("together, in common, apart", () => {
    const other = regionOf([rectangle(20, 15, 60, 45)]);
    const common = 20 * 15;
    expectArea(union(plate, other), 2400 - common);
    expectArea(intersection(plate, other), common);
    expectArea(difference(plate, other), 1200 - common);
    expectArea(intersection(plate, regionOf([])), 0);
  });

  it("outlines run counter-clockwise, holes clockwise, whichever way they came", () => {
    const shapes = regionLoops(regionOf([rectangle(0, 0, 1, 1)]))[0];
    expect(shapes.length).toBe(8);
    const turned = regionOf([hole(0, 0, 10, 10)]);
    expectArea(turned, 100);
  });

  it("a point that is not finite is refused", () => {
    expect(() => regionOf([Float64Array.of(0, 0, NaN, 0, 1, 1)])).toThrow(RangeError);
    expect(() => inset(plate, -1)).toThrow("The offset is -1 mm");
  });
});
