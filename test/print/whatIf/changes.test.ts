import { describe, expect, it } from "vitest";
import { changedPrint, changeLine, changeWords } from "../../../src/print/whatIf/changes";
import { withSettings } from "../../../src/print/whatIf/variant";
import { printSettingNames } from "../../../src/printSettings";
import { boxBase, boxCandidates } from "./boxPrint";

describe("what changes", () => {
  const variant = withSettings(boxBase, { infill: 10, shells: 2, layerHeight: 0.28 });

  it("is told in words, in the order of the settings", () => {
    expect(changeWords(boxBase, variant, boxCandidates)).toBe(
      "layers of 0.28 mm instead of 0.2, 2 shells instead of 3, infill 10 % instead of 15",
    );
    expect(changeWords(boxBase, boxBase, boxCandidates)).toBe("nothing changed");
  });

  it("is a line of the design with the changed names alone", () => {
    expect(changeLine(boxBase, variant, boxCandidates)).toBe(
      "print: { layerHeight: 0.28, shells: 2, infill: 10 }",
    );
    expect(changeLine(boxBase, boxBase, boxCandidates)).toBe("");
    expect(changedPrint(boxBase, variant, boxCandidates)).toEqual({
      layerHeight: 0.28,
      shells: 2,
      infill: 10,
    });
  });

  it("names the way up, in whole degrees", () => {
    const candidates = [
      boxCandidates[0],
      { name: "least support", orientation: { tilt: 31.7, towards: -0.2, turn: 12.4 }, fits: true },
    ];
    const turned = { ...withSettings(boxBase, { shells: 1 }), orientation: 1 };
    expect(changeWords(boxBase, turned, candidates)).toBe(
      '1 shell instead of 3, the way up "least support" instead of "as designed"',
    );
    expect(changeLine(boxBase, turned, candidates)).toBe(
      "print: { shells: 1, orientation: { tilt: 32, towards: 0, turn: 12 } }",
    );
    expect(() => changeWords(boxBase, { ...turned, orientation: 7 }, candidates)).toThrow(
      /way up number 7.*2 are given/,
    );
  });

  it.each(printSettingNames)("%s has words with both values", (name) => {
    const now = boxBase.settings[name] + 2;
    const words = changeWords(boxBase, withSettings(boxBase, { [name]: now }), boxCandidates);
    expect(words).toContain(String(now));
    expect(words).toMatch(new RegExp(`instead of ${boxBase.settings[name]}$`));
  });
});
