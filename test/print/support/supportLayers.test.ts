import { describe, expect, it } from "vitest";
import { massProperties } from "../../../src/checks/massProperties";
import { findSupport } from "../../../src/print/support/findSupport";
import { supportLayers } from "../../../src/print/support/supportLayers";
import { supportSurface } from "../../../src/print/support/supportSurface";
import { box, ellipsoid, moved, together } from "../../checks/shapes";
import { settings, standing } from "./bodies";

const bridge = together(
  box([-30, -10, 0], [-20, 10, 30]),
  box([20, -10, 0], [30, 10, 30]),
  box([-30, -10, 30], [30, 10, 36]),
);

describe("supports by layers", () => {
  it("of a bridge: its span on each layer, the upper three of them dense", () => {
    const chosen = settings({ supportGap: 0.2, contactLayers: 3 });
    const found = findSupport(standing(bridge), chosen);
    const { support, contact, places } = supportLayers(found, chosen, { count: 180, layerHeight: 0.2 });
    // 29.8 mm are 149 layers of 0.2 mm.
    for (let layer = 0; layer < 180; layer++) {
      const at = `layer ${layer}`;
      expect(support[layer], at).toBe(layer < 146 ? 800 : 0);
      expect(contact[layer], at).toBe(layer >= 146 && layer < 149 ? 800 : 0);
      expect(places[layer], at).toBe(layer < 149 ? 1 : 0);
    }
  });

  it("hold the volume of the supports, and their number", () => {
    const balls = standing(
      together(
        moved(ellipsoid(1, 1, 1, 60, 60), [0, 0, 40], [20, 20, 20]),
        moved(ellipsoid(1, 1, 1, 60, 60), [60, 0, 20], [9, 9, 9]),
      ),
    );
    const found = findSupport(balls, settings());
    const { support, contact, places } = supportLayers(found, settings(), { count: 300, layerHeight: 0.2 });
    const total = support.reduce((sum, area, layer) => sum + (area + contact[layer]) * 0.2, 0);
    expect(Math.abs(total / found.volume - 1)).toBeLessThan(0.003);
    expect([...new Set(places)].sort()).toEqual([0, 1, 2]);
    // Slow and obvious: runs that hold the middle of a layer.
    for (const layer of [0, 17, 60, 110, 131]) {
      const middle = (layer + 0.5) * 0.2;
      const cells = [...found.runs.top].filter((top, i) => found.runs.bottom[i] <= middle && middle < top);
      expect(support[layer] + contact[layer]).toBeCloseTo(cells.length * 0.25, 9);
    }
  });

  it("without contact layers all is support; with more than there are, none; what stands higher is cut off", () => {
    const found = findSupport(standing(bridge), settings());
    const sum = (values: Float64Array) => values.reduce((a, b) => a + b, 0);
    const layers = { count: 100, layerHeight: 0.2 };
    expect(sum(supportLayers(found, { contactLayers: 0 }, layers).contact)).toBe(0);
    expect(sum(supportLayers(found, { contactLayers: 0 }, layers).support)).toBe(80_000);
    expect(sum(supportLayers(found, { contactLayers: 500 }, layers).support)).toBe(0);
    expect(() => supportLayers(found, { contactLayers: 1 }, { count: 2.5, layerHeight: 0.2 })).toThrow(
      RangeError,
    );
    expect(() => supportLayers(found, { contactLayers: 1 }, { count: 2, layerHeight: 0 })).toThrow(
      RangeError,
    );
  });
});

describe("the surface of supports", () => {
  it("of a bridge is the box under it", () => {
    const found = findSupport(standing(bridge), settings());
    const surface = supportSurface(found);
    const { volume, area } = massProperties(surface);
    expect(volume / found.volume).toBeCloseTo(1, 5);
    expect(area / (2 * (40 * 20 + (40 + 20) * 29.8))).toBeCloseTo(1, 5);
  });

  it("has no steps along a slope, and a wall where one support stands out over another", () => {
    /** Upright runs over cells of 2 mm in a row along x, each up to its own height. */
    const row = (tops: readonly number[]) => {
      const ints = (value: (i: number) => number) => Int32Array.from(tops, (_, i) => value(i));
      const floats = (value: (i: number) => number) => Float32Array.from(tops, (_, i) => value(i));
      return supportSurface({
        runs: {
          ...{ count: tops.length, cell: 2, origin: [0, 0], columns: tops.length, rows: 1 },
          ...{ column: ints((i) => i), row: ints(() => 0), part: ints(() => 0), group: ints(() => 0) },
          ...{ bottom: floats(() => 0), top: floats((i) => tops[i]) },
          onPlate: Uint8Array.from(tops, () => 1),
          ...{ steepness: floats(() => 1), landing: floats(() => 0) },
        },
      });
    };
    // Above and below, along both sides, and one wall at each end: two triangles each.
    const slope = row([10, 11, 12, 13]);
    expect(slope.triangles.length / 3).toBe(2 * (4 * 4 + 2));
    expect(slope.positions.length / 3, "corners are shared").toBe(2 * 2 * 5);
    // A trapezium of 8 mm, 10 to 13 mm tall but for half a step at each end, 2 mm deep.
    expect(massProperties(slope).volume).toBeCloseTo(2 * 2 * (10.25 + 11 + 12 + 12.75), 4);
    // A step of 20 mm: its wall is of those 20 mm alone.
    const step = row([10, 10, 30, 30]);
    expect(step.triangles.length / 3).toBe(2 * (4 * 4 + 2 + 1));
    expect(massProperties(step)).toMatchObject({
      volume: expect.closeTo(2 * 2 * (10 + 10 + 30 + 30), 4),
      // Above and below 16 mm² each, along the sides 160 mm² each, 20 and 60 mm² at the ends, 40 mm² at the step.
      area: expect.closeTo(2 * 16 + 2 * 160 + 20 + 60 + 40, 4),
    });
  });

  it("has about the volume of the supports, faces outward and stays light", () => {
    const ball = standing(moved(ellipsoid(1, 1, 1, 90, 90), [0, 0, 110], [105, 105, 105]));
    const found = findSupport(ball, settings(), { cell: 1 });
    const surface = supportSurface(found, 1);
    expect(surface.triangles.length / 3).toBeLessThanOrEqual(40_000);
    expect(surface.triangles.length / 3).toBeGreaterThan(5_000);
    // Cells of 2 mm at the rim are drawn whole: half a cell on a radius of 74 mm, 2.7 %, where it is tallest.
    expect(Math.abs(massProperties(surface).volume / found.volume - 1)).toBeLessThan(0.08);
    expect(supportSurface(findSupport(ball, settings({ supportShare: 0 }))).triangles).toHaveLength(0);
    expect(() => supportSurface(found, 0)).toThrow(RangeError);
  });
});
