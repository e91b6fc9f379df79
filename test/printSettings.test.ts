import { describe, expect, it } from "vitest";
import schema from "../src/build/print.schema.json";
import {
  defaultOrientationWeights,
  greatestOrientationWeight,
  orientationWeightNames,
} from "../src/orientation";
import {
  defaultPrintSettings,
  type PrintSettingDeclaration,
  printSettingDeclarations,
  printSettingNames,
  printSettingProblems,
} from "../src/printSettings";

describe("print settings", () => {
  it("every default lies in its range and says where it comes from", () => {
    for (const name of printSettingNames) {
      const declaration: PrintSettingDeclaration = printSettingDeclarations[name];
      expect(printSettingProblems({ [name]: declaration.default })).toEqual([]);
      expect(declaration.source).toMatch(/no source|memory|\d{4}/);
      expect(declaration.help).not.toBe("");
    }
    expect(Object.keys(defaultPrintSettings)).toEqual(printSettingNames);
  });

  it("names what is wrong, the value and what would be right", () => {
    expect(printSettingProblems({ shels: 2 })[0]).toMatchObject({ suggestion: 'did you mean "shells"?' });
    expect(printSettingProblems({ shells: 1.5 })[0].suggestion).toContain("whole number from 1 to 50");
    expect(printSettingProblems({ infill: Number.NaN })[0].text).toContain("NaN");
    expect(printSettingProblems({ infill: "15" })[0].text).toContain('"15"');
    expect(printSettingProblems({ layerHeight: 0 })[0].text).toContain("0 mm");
    expect(printSettingProblems({ toString: 1 })[0].id).toBe("unknown-setting");
  });

  it("the schema of their file says the same", () => {
    const {
      $schema: _,
      name: __,
      notes: ___,
      orientation,
      orientationWeights,
      ...properties
    } = schema.properties;
    const wanted = Object.fromEntries(
      printSettingNames.map((name) => {
        const declaration: PrintSettingDeclaration = printSettingDeclarations[name];
        const { default: preset, least, most, help, unit, whole } = declaration;
        const description = help + (unit ? `, ${unit}` : "");
        const type = whole ? "integer" : "number";
        return [name, { type, minimum: least, maximum: most, default: preset, description }];
      }),
    );
    expect(properties).toEqual(wanted);
    expect(Object.keys(orientationWeights.properties)).toEqual(orientationWeightNames);
    for (const name of orientationWeightNames) {
      expect(orientationWeights.properties[name]).toMatchObject({
        minimum: 0,
        maximum: greatestOrientationWeight,
        default: defaultOrientationWeights[name],
      });
    }
    expect(orientation.default).toBe("as designed");
  });
});
