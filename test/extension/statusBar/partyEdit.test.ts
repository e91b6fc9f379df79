import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { PartyKind } from "../../../src/extension/designState";
import { partyEdit } from "../../../src/extension/statusBar/partyEdit";
import { namedParties } from "../../../src/extension/tree/partyUse";

const edited = (text: string, kind: PartyKind, named: string) => {
  const change = partyEdit(text, kind, named);
  return change && text.slice(0, change.start) + change.text + text.slice(change.end);
};

const sample = readFileSync(new URL("../../../samples/coral-crown.headpiece.ts", import.meta.url), "utf8");

test("another wearer takes the place of the one named, and nothing else changes", () => {
  const text = edited(sample, "wearer", "minnow.wearer.json")!;
  expect(namedParties(text)).toEqual({ ...namedParties(sample), wearer: "minnow.wearer.json" });
  const differing = text.split("\n").filter((line, i) => line !== sample.split("\n")[i]);
  expect(differing).toEqual(['  wearer: "minnow.wearer.json",']);
});

test.each<[string, string, PartyKind, string]>([
  [
    "after the wearer, on a line of its own",
    'export default headpiece({\n  name: "a",\n  wearer: "w",\n  make: f,\n});',
    "printer",
    'export default headpiece({\n  name: "a",\n  wearer: "w",\n  printer: "p.json",\n  make: f,\n});',
  ],
  [
    "with the line ends and tabs of the file",
    "export default headpiece({\r\n\tname: 'a',\r\n\tmake: f,\r\n});",
    "wearer",
    "export default headpiece({\r\n\tname: 'a',\r\n\twearer: 'p.json',\r\n\tmake: f,\r\n});",
  ],
  [
    "on the same line where all is on one",
    'export default headpiece({ name: "a", make: f });',
    "material",
    'export default headpiece({ name: "a", material: "p.json", make: f });',
  ],
  [
    "first where nothing comes before",
    "export default headpiece({\n  make: f,\n});",
    "wearer",
    'export default headpiece({\n  wearer: "p.json",\n  make: f,\n});',
  ],
  [
    "into an empty one",
    "export default headpiece({});",
    "wearer",
    'export default headpiece({ wearer: "p.json" });',
  ],
  [
    "not into a comment",
    'export default headpiece({ name: "a", /* wearer: "no" */ make: f });',
    "wearer",
    'export default headpiece({ name: "a", wearer: "p.json", /* wearer: "no" */ make: f });',
  ],
])("a file that was not named is written %s", (_, before, kind, after) => {
  expect(edited(before, kind, "p.json")).toBe(after);
});

test("a quotation mark in a file's name does not end the text", () => {
  const text = edited("export default headpiece({ name: 'a' });", "wearer", "pip's.wearer.json")!;
  expect(text).toContain("wearer: 'pip\\'s.wearer.json'");
  expect(namedParties(text).wearer).toBe("pip's.wearer.json");
});

test.each([
  ["computed", "export default headpiece({ wearer: pick() });"],
  ["a sum", 'export default headpiece({ wearer: "a" + "b" });'],
  ["a shorthand", "export default headpiece({ wearer });"],
  ["not closed", 'export default headpiece({ name: "a", '],
  ["not there", "export const a = 1;"],
])("nothing is changed where the value or the call is %s", (_, text) => {
  expect(partyEdit(text, "wearer", "p.json")).toBeUndefined();
});
