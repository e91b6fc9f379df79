import { expect, test } from "vitest";
import { readDataText } from "../../../src/build/dataFile";
import {
  type AskedMeasure,
  askedMeasures,
  checkMeasure,
  estimateOf,
  exampleOf,
  lengthTyped,
  type WearerAnswers,
  wearerText,
} from "../../../src/extension/wizards/wearerAnswers";
import { UNITS } from "../../../src/head/units";
import { plainTexts } from "../plainTexts";

const check = (measure: AskedMeasure, text: string, earlier: Partial<WearerAnswers> = {}) =>
  checkMeasure(measure, text, { unit: "mm", name: "Pip", ...earlier }, plainTexts);

test.each<[string, "mm" | "cm" | "in", number | undefined]>([
  ["565", "mm", 565],
  [" 56,5 cm ", "cm", 56.5],
  ["22.3in", "in", 22.3],
  ['22.3"', "in", 22.3],
  ["57 cm", "mm", undefined],
  ["-5", "mm", undefined],
  ["1e3", "mm", undefined],
  ["7 1/4", "in", undefined],
  ["", "mm", undefined],
])("%j in %s is %s", (text, unit, length) => {
  expect(lengthTyped(text, unit)).toBe(length);
});

test("usual measures in every unit are taken without a word", () => {
  for (const unit of UNITS) {
    const answers: Partial<Record<AskedMeasure, string>> = {};
    for (const measure of askedMeasures) {
      const text = exampleOf(measure, unit);
      expect(check(measure, text, { unit, ...answers }), `${measure} ${text} ${unit}`).toBeUndefined();
      answers[measure] = text;
    }
    const text = wearerText({ name: "Pip", unit, ...answers });
    expect(readDataText(text, "/pip.wearer.json", "wearer").messages).toEqual([]);
  }
});

test("only the girth is needed, and a hat size stands in for it", () => {
  expect(check("girth", "  ")).toMatchObject({ isError: true });
  expect(check("length", "")).toBeUndefined();
  expect(check("girth", "US 7 1/4")).toBeUndefined();
  expect(JSON.parse(wearerText({ name: "Sedge", unit: "mm", girth: "US 7 1/8", length: "" }))).toEqual({
    name: "Sedge",
    units: "mm",
    hatSize: "US 7 1/8",
  });
});

test.each<[AskedMeasure, string, RegExp]>([
  ["girth", "57", /looks like centimetres given as millimetres/],
  ["girth", "XL", /letters vary by maker/],
  ["girth", "wide", /no hat size/],
  ["length", "19.5", /which no human has/],
  ["breadth", "wide", /Give a number in mm, such as 150/],
  ["hairThickness", "200", /which no human has/],
  ["ease", "400", /more than 30 mm/],
])("%s of %j is refused", (measure, text, why) => {
  const verdict = check(measure, text, measure === "girth" ? {} : { girth: "565" });
  expect(verdict?.isError).toBe(true);
  expect(verdict?.text).toMatch(why);
});

test("measures that cannot belong to one head are refused with the last of them", () => {
  const earlier = { girth: "565", length: "245" };
  expect(check("breadth", "200", earlier)).toMatchObject({ isError: true });
});

test("a seldom measure is doubted, not refused, and only where it was given", () => {
  const girth = "470";
  expect(check("girth", girth)).toMatchObject({ isError: false });
  expect(check("hairThickness", "4", { girth })).toBeUndefined();
});

test("what is left out is told with its estimate, in the unit in use", () => {
  expect(estimateOf("length", { unit: "mm", girth: "565" })).toMatch(/^1[89]\d(\.\d)? mm ± \d(\.\d)? mm$/);
  expect(estimateOf("length", { unit: "cm", girth: "56.5" })).toMatch(/^1[89](\.\d+)? cm ± /);
  expect(estimateOf("hairThickness", { unit: "mm", girth: "565" })).toBe("3 mm");
  expect(estimateOf("ease", { unit: "in" })).toBe("0.31 in");
  expect(estimateOf("length", { unit: "mm", girth: "" })).toBeUndefined();
});
