import { readdirSync, readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { argumentsOf, findHeadpiece, propertiesOf, quotedText } from "../../src/extension/designText";

const samples = new URL("../../samples/", import.meta.url);
const sample = (name: string) => readFileSync(new URL(name, samples), "utf8");

const names = readdirSync(samples).filter((name) => name.endsWith(".headpiece.ts"));

test.each(names)("the headpiece of %s and its properties are found", (name) => {
  const text = sample(name);
  const call = findHeadpiece(text)!;
  expect(text.slice(call.start, call.start + 9)).toBe("headpiece");
  expect(text[call.open]).toBe("{");
  expect(text.slice(call.close)).toMatch(/^\}\);\s*$/);
  const found = call.properties.map((property) => property.name);
  expect(found).toContain("name");
  expect(found.at(-1)).toBe("make");
  const wearer = call.properties.find((property) => property.name === "wearer")!;
  expect(quotedText(text, wearer)).toMatch(/^[a-z-]+\.wearer\.json$/);
});

test("parameters are found down to the first argument of each", () => {
  const text = sample("reed-wreath.headpiece.ts");
  const parameters = findHeadpiece(text)!.properties.find(({ name }) => name === "parameters")!;
  const defaults = propertiesOf(text, parameters.valueStart).map(({ name, nameEnd, valueEnd }) => {
    const [first] = argumentsOf(text, text.indexOf("(", nameEnd));
    expect(text[valueEnd - 1]).toBe(")");
    return [name, text.slice(first.start, first.end)];
  });
  expect(defaults).toEqual([
    ["reeds", "66"],
    ["thickness", "2.3"],
    ["weave", '["loose", "tight"]'],
    ["rushes", "5"],
    ["leaves", "9"],
  ]);
});

test("what stands in comments, texts, templates and patterns is no code", () => {
  const text = [
    '// headpiece({ name: "a" })',
    '/* headpiece({ name: "b" }) */',
    'const told = "headpiece({ name: 1 })";',
    "const made = `headpiece({ §{told.replace(/[/`{]\\}/g, `}§{1 / 2}`)} })`;".replaceAll("§", "$"),
    "const half = told.length / 2; const third = made.length / 3;",
    'export default headpiece({ name: "c", wearer: "it\\u0027s {here}.wearer.json", make: () => [] });',
  ].join("\n");
  const call = findHeadpiece(text)!;
  expect(call.properties.map(({ name }) => name)).toEqual(["name", "wearer", "make"]);
  expect(quotedText(text, call.properties[0])).toBe("c");
  expect(quotedText(text, call.properties[1])).toBe("it's {here}.wearer.json");
  expect(quotedText(text, call.properties[2])).toBeUndefined();
});

test("the exported one of two is taken, and a method is told from a value", () => {
  const text =
    'const a = headpiece({ name: "a" });\nexport default headpiece({ "name": "b", wearer, ...rest, [key]: 1, async make({ head }) { return [a, head]; }, });';
  const { properties } = findHeadpiece(text)!;
  expect(properties.map(({ name, kind }) => [name, kind])).toEqual([
    ["name", "value"],
    ["wearer", "shorthand"],
    ["make", "method"],
  ]);
});

test.each([
  ["nothing", "", undefined],
  ["no call", "const headpiece = 1;", undefined],
  ["an open object", 'export default headpiece({ name: "a", wearer: ', ["name"]],
  ["an open quote", 'export default headpiece({ name: "a\n  make: 1 })', ["name"]],
  ["an open template", "export default headpiece({ name: `a$" + "{", ["name"]],
  ["an open comment", "export default headpiece({ /* name: 1 })", []],
])("half a text does no harm: %s", (_, text, expected) => {
  const call = findHeadpiece(text);
  expect(call?.properties.map(({ name }) => name)).toEqual(expected);
});

test("a text of any length cut anywhere is read without an error", () => {
  const text = sample("drowned-stag.headpiece.ts");
  for (let end = 0; end < text.length; end += 7) findHeadpiece(text.slice(0, end));
});
