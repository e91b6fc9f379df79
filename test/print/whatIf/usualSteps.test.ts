import { describe, expect, it } from "vitest";
import { stepsAround, usualSteps } from "../../../src/print/whatIf/usualSteps";
import { defaultPrintSettings } from "../../../src/printSettings";

describe("usual values of print settings", () => {
  it("are those of a nozzle of 0.4 mm", () => {
    const steps = usualSteps(defaultPrintSettings, 0.4);
    // A quarter to three quarters of 0.4 mm: common practice, no source.
    expect(steps.layerHeight).toEqual([0.12, 0.16, 0.2, 0.24, 0.28]);
    expect(steps.shells).toEqual([2, 3, 4, 5, 6]);
    expect(steps.infill).toEqual([5, 10, 15, 20, 25, 30, 40, 50]);
    expect(steps.supportShare).toEqual([5, 10, 15, 20, 25, 30, 40, 50]);
  });

  it.each([0.2, 0.4, 0.6, 0.8, 1, 1.2])("keep layers within what a nozzle of %d mm lays", (nozzle) => {
    const base = { ...defaultPrintSettings, layerHeight: nozzle / 2, lineWidth: 1.1 * nozzle };
    const { layerHeight } = usualSteps(base, nozzle);
    expect(layerHeight).toContain(nozzle / 2);
    expect(layerHeight.length).toBeGreaterThanOrEqual(3);
    expect(layerHeight.length).toBeLessThanOrEqual(8);
    expect(Math.min(...layerHeight)).toBeGreaterThanOrEqual(0.25 * nozzle - 1e-9);
    expect(Math.max(...layerHeight)).toBeLessThanOrEqual(0.75 * nozzle + 1e-9);
    expect([...layerHeight].sort((a, b) => a - b)).toEqual(layerHeight);
  });

  it("keep the base's own values, and a base without support without it", () => {
    const base = { ...defaultPrintSettings, layerHeight: 0.17, shells: 1, infill: 0, supportShare: 0 };
    const steps = usualSteps(base, 0.4);
    expect(steps.layerHeight).toContain(0.17);
    expect(steps.shells[0]).toBe(1);
    expect(steps.infill[0]).toBe(0);
    expect(steps.supportShare).toEqual([0]);
  });

  it("lay no line as high as it is wide", () => {
    const { layerHeight } = usualSteps({ ...defaultPrintSettings, layerHeight: 0.16, lineWidth: 0.24 }, 0.4);
    expect(Math.max(...layerHeight)).toBeLessThan(0.24);
  });

  it("have half the support share among them", () => {
    expect(usualSteps({ ...defaultPrintSettings, supportShare: 35 }, 0.4).supportShare).toContain(17.5);
  });

  it("are told from a base by neighbours", () => {
    expect(stepsAround([1, 2, 3, 4, 5], 3, 1)).toEqual([2, 4]);
    expect(stepsAround([1, 2, 3, 4, 5], 1, 2)).toEqual([2, 3]);
    expect(stepsAround([1, 2, 3], 3, Infinity)).toEqual([1, 2]);
  });

  it("need a nozzle", () => {
    expect(() => usualSteps(defaultPrintSettings, 0)).toThrow(/nozzle is 0 mm/);
    expect(() => usualSteps(defaultPrintSettings, Number.NaN)).toThrow(RangeError);
  });
});
