import { describe, expect, it } from "vitest";
import schema from "../src/build/limits.schema.json";
import { limitDeclarations, limitNames, limitProblems, limitsOf } from "../src/wearLimits";

describe("limits of fit and wear", () => {
  it("every default lies in its range and says where it comes from", () => {
    for (const name of limitNames) {
      const { default: preset, least, most, source, help } = limitDeclarations[name];
      expect(preset).toBeGreaterThanOrEqual(least);
      expect(preset).toBeLessThanOrEqual(most);
      expect(source).toMatch(/no source|memory|CFR|\d{4}|geometry/);
      expect(help).not.toBe("");
    }
  });

  it("the wearer goes before the design, the design before the workspace", () => {
    const limits = limitsOf({
      workspace: { friction: 0.2, tipRadius: 2, massMost: 900 },
      design: { friction: 0.4, tipRadius: 3 },
      wearer: { friction: 0.5 },
    });
    expect(limits.friction).toEqual({ value: 0.5, source: "set by the wearer" });
    expect(limits.tipRadius).toEqual({ value: 3, source: "set by the design" });
    expect(limits.massMost).toEqual({ value: 900, source: "set by the workspace" });
    expect(limits.nodForward.source).toBe("common practice, no source");
  });

  it("names what is wrong, the value and what would be right", () => {
    expect(limitProblems({ friction: 0.4 })).toEqual([]);
    expect(limitProblems({ frction: 0.4 })[0]).toMatchObject({ suggestion: 'did you mean "friction"?' });
    expect(limitProblems({ friction: Number.NaN })[0].text).toContain("NaN");
    expect(limitProblems({ friction: null })[0].text).toContain("null");
    expect(limitProblems({ friction: 9 })[0].suggestion).toContain("from 0.02 to 2");
    expect(limitProblems({ toString: 1 })[0].id).toBe("unknown-limit");
  });

  it("the schema of their file says the same", () => {
    const { $schema: _, ...properties } = schema.properties;
    const wanted = Object.fromEntries(
      limitNames.map((name) => {
        const { default: preset, least, most, help, unit } = limitDeclarations[name];
        const description = help + (unit ? `, ${unit}` : "");
        return [name, { type: "number", minimum: least, maximum: most, default: preset, description }];
      }),
    );
    expect(properties).toEqual(wanted);
  });
});
