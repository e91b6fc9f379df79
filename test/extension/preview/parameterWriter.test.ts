import { describe, expect, test } from "vitest";
import type { ParameterDeclaration, ParameterValue } from "../../../src/design/part";
import { writeParameters } from "../../../src/extension/preview/parameterWriter";
import { changed, plainText } from "../plainText";

const declared: ParameterDeclaration[] = [
  { name: "reeds", kind: "count", default: 66, unit: "" },
  { name: "reach", kind: "length", default: 90, unit: "mm" },
  { name: "sweep", kind: "angle", default: -35, unit: "°" },
  { name: "mood", kind: "choice", default: "calm", choices: ["calm", "storm"], unit: "" },
  { name: "veil", kind: "toggle", default: true, unit: "" },
];

function written(text: string, values: Record<string, ParameterValue>) {
  const { changes, refusals } = writeParameters(text, values, declared, plainText);
  return { text: changed(text, changes), refused: refusals.map(({ name }) => name), refusals };
}

const design = (parameters: string) =>
  `import { headpiece } from "anadem";\nexport default headpiece({\n  name: "A",\n  ${parameters},\n  make: () => [],\n});\n`;

const cases: [what: string, before: string, values: Record<string, ParameterValue>, after: string][] = [
  [
    "a number",
    "parameters: { reeds: count(66, { least: 24 }) }",
    { reeds: 70 },
    "parameters: { reeds: count(70, { least: 24 }) }",
  ],
  ["a number alone", "parameters: { reeds: count(66) }", { reeds: 70 }, "parameters: { reeds: count(70) }"],
  [
    "a negative number",
    "parameters: { sweep: angle(-35, { least: -90 }) }",
    { sweep: 12.5 },
    "parameters: { sweep: angle(12.5, { least: -90 }) }",
  ],
  [
    "to a negative number",
    "parameters: { sweep: angle( +1_0.5e0 ) }",
    { sweep: -4 },
    "parameters: { sweep: angle( -4 ) }",
  ],
  [
    "without the dust of sums",
    "parameters: { reach: length(90) }",
    { reach: 0.1 + 0.2 },
    "parameters: { reach: length(0.3) }",
  ],
  [
    "a toggle",
    'parameters: { veil: toggle(true, { help: "count(1)" }) }',
    { veil: false },
    'parameters: { veil: toggle(false, { help: "count(1)" }) }',
  ],
  [
    "a choice without options",
    'parameters: { mood: choice(["calm", "storm"]) }',
    { mood: "storm" },
    'parameters: { mood: choice(["calm", "storm"], { preset: "storm" }) }',
  ],
  [
    "a choice with help",
    "parameters: { mood: choice(['calm', 'storm'], { help: \"a, b\" }) }",
    { mood: "storm" },
    "parameters: { mood: choice(['calm', 'storm'], { preset: \"storm\", help: \"a, b\" }) }",
  ],
  [
    "a choice with a preset",
    'parameters: { mood: choice(["calm", "storm"], { help: "x", preset: "storm" }) }',
    { mood: "calm" },
    'parameters: { mood: choice(["calm", "storm"], { help: "x", preset: "calm" }) }',
  ],
  [
    "a choice with empty options",
    'parameters: { mood: choice(["calm", "storm"], {}) }',
    { mood: "storm" },
    'parameters: { mood: choice(["calm", "storm"], { preset: "storm" }) }',
  ],
  [
    "over several lines with comments",
    "parameters: {\n    // reeds: count(1),\n    reeds: /* now */ count(\n      66, // } )\n      { least: 24 },\n    ),\n    reach: length(90),\n  }",
    { reeds: 70, reach: 91 },
    "parameters: {\n    // reeds: count(1),\n    reeds: /* now */ count(\n      70, // } )\n      { least: 24 },\n    ),\n    reach: length(91),\n  }",
  ],
  [
    "by a quoted name, through a namespace",
    'parameters: { "reeds": anadem.count(66) }',
    { reeds: 70 },
    'parameters: { "reeds": anadem.count(70) }',
  ],
];

describe("a default is written where it stands", () => {
  test.each(cases)("%s", (_what, before, values, after) => {
    const result = written(design(before), values);
    expect(result.text).toBe(design(after));
    expect(result.refused).toEqual([]);
  });

  test("also of constants in shorthand, and of the whole in shorthand", () => {
    const before = `const reeds = count(66);\nconst other = length(3);\n${design("parameters: { reeds, reach: other }")}`;
    expect(written(before, { reeds: 70, reach: 5 }).text).toBe(
      before.replace("count(66)", "count(70)").replace("length(3)", "length(5)"),
    );
    const whole = `const parameters = { reeds: count(66) } as const;\n${design("parameters")}`;
    expect(written(whole, { reeds: 70 }).text).toBe(whole.replace("66", "70"));
  });

  test("in the headpiece that is exported, not in one before it", () => {
    const other = `const first = headpiece({ parameters: { reeds: count(1) }, make });\n`;
    const text = other + design("parameters: { reeds: count(66) }");
    expect(written(text, { reeds: 70 }).text).toBe(text.replace("66", "70"));
  });
});

describe("a default that is not a plain value is refused, and the rest written", () => {
  test.each([
    ["a sum", "parameters: { reeds: count(60 + 6), reach: length(90) }"],
    ["a constant", "parameters: { reeds: count(many), reach: length(90) }"],
    ["a template", "parameters: { reeds: count(+`66`), reach: length(90) }"],
    ["one from elsewhere", "parameters: { ...common, reach: length(90) }"],
    ["one made by a function", "parameters: { reeds: usual, reach: length(90) }"],
  ])("%s", (_what, before) => {
    const result = written(design(before), { reeds: 70, reach: 91 });
    expect(result.refused).toEqual(["reeds"]);
    expect(result.refusals[0].reason).toContain("reeds");
    expect(result.text).toBe(design(before.replace("length(90)", "length(91)")));
  });

  test("a choice whose words or options are computed", () => {
    for (const before of [
      "parameters: { mood: choice(moods) }",
      'parameters: { mood: choice(["calm", "storm"], about) }',
      'parameters: { mood: choice(["calm", "storm"], { ...about }) }',
      'parameters: { mood: choice(["calm", "storm"], { preset: usual }) }',
    ]) {
      const result = written(design(before), { mood: "storm" });
      expect(result.refused).toEqual(["mood"]);
      expect(result.text).toBe(design(before));
    }
  });

  test("and nothing is thrown at a text that is half written", () => {
    const whole = design('parameters: { reeds: count(66), mood: choice(["calm", "storm"]) }');
    for (let length = 0; length < whole.length; length += 3) {
      expect(() => written(whole.slice(0, length), { reeds: 70, mood: "storm" })).not.toThrow();
    }
  });
});
