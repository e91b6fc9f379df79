import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readDataText } from "../../src/build/dataFile";
import { newWearerText, takeReadings } from "../../src/build/takeReadings";
import { editBetween, withKeys } from "../../src/build/wearerEdit";
import type { TakenField } from "../../src/head/readings";
import { MessageError } from "../../src/message";
import { root } from "../../src/tools/setup.mjs";

const minnow = readFileSync(join(root, "samples/minnow.wearer.json"), "utf8");
const stag = readFileSync(join(root, "samples/drowned-stag.wearer.json"), "utf8");
const warden = readFileSync(join(root, "samples/marsh-warden.wearer.json"), "utf8");

const readings = (...given: [TakenField, number[]][]) => new Map(given);
const added = (text: string, ...given: [TakenField, number[]][]) =>
  takeReadings(text, "a.wearer.json", readings(...given), "add");
const changedLines = (before: string, after: string) => {
  const old = new Set(before.split("\n"));
  return after.split("\n").filter((line) => !old.has(line));
};

test("readings go behind those that are there, and all else stays", () => {
  const { text } = added(minnow, ["girth", [53.5]]);
  expect(changedLines(minnow, text)).toEqual(['  "girth": { "readings": [53.4, 53.6, 53.5] },']);
  expect(text.split("\n").length).toBe(minnow.split("\n").length);
});

test("a bare number counts as the first reading", () => {
  const { text } = added(stag, ["breadth", [6.2]]);
  expect(changedLines(stag, text)).toEqual(['  "breadth": { "readings": [6.1, 6.2] },']);
});

test("a new measure stands where it usually stands", () => {
  const { text } = added(minnow, ["breadth", [14.5, 14.6]], ["length", [18.2]]);
  const keys = Object.keys(JSON.parse(text));
  expect(keys).toEqual(["name", "units", "girth", "length", "breadth", "hairThickness", "notes"]);
});

test("tabs, ends of lines and the mark of the encoding stay", () => {
  const odd = '\uFEFF{\r\n\t"name": "A",\r\n\t"units": "mm",\r\n\t"girth": 570\r\n}\r\n';
  const { text } = added(odd, ["length", [196]]);
  expect(text).toBe(
    '\uFEFF{\r\n\t"name": "A",\r\n\t"units": "mm",\r\n\t"girth": 570,\r\n\t"length": { "readings": [196] }\r\n}\r\n',
  );
});

test("a girth takes the place of a hat size, and says so", () => {
  const { text, messages } = added(warden, ["girth", [568, 570]]);
  expect(JSON.parse(text)).not.toHaveProperty("hatSize");
  expect(Object.keys(JSON.parse(text))).toEqual(["name", "units", "girth", "hairThickness", "notes"]);
  expect(messages.map(({ id }) => id)).toEqual(["hat-size-replaced"]);
  expect(readDataText(text, "a.wearer.json", "wearer").value?.measurements.girth).toBe(569);
});

test("a file that begins may lack the girth", () => {
  const { text, messages } = added(newWearerText('Maris, "the" Queen', "mm"), ["length", [190]]);
  expect(JSON.parse(text)).toEqual({ name: 'Maris, "the" Queen', units: "mm", length: { readings: [190] } });
  expect(messages.map(({ id }) => id)).toEqual(["missing-girth"]);
});

test("nothing is taken into a value with a tolerance, into faults, or what no human has", () => {
  const refused = (run: () => unknown) => {
    try {
      run();
    } catch (error) {
      if (error instanceof MessageError) return error.messages[0];
    }
    throw new Error("it was taken");
  };
  expect(refused(() => added(stag, ["girth", [22.9]]))).toMatchObject({
    id: "reading-not-added",
    suggestion: expect.stringContaining('"readings": [22.9]'),
  });
  expect(refused(() => added(minnow.replace('"cm"', '"feet"'), ["girth", [53]]))).toMatchObject({
    id: "unknown-units",
    line: 3,
  });
  expect(refused(() => added(minnow, ["length", [1.8]]))).toMatchObject({ id: "measure-not-human" });
  expect(refused(() => added("{", ["length", [1.8]]))).toMatchObject({ id: "json-syntax" });
});

test("set puts readings in the place of what stands there, keeps a tolerance, and takes out what was emptied", () => {
  const toleranced = withKeys(minnow, new Map([["girth", { readings: [53.4, 53.6], tolerance: 0.5 }]]));
  const set = (text: string, ...given: [TakenField, number[]][]) =>
    takeReadings(text, "a.wearer.json", readings(...given), "set", new Map([["hairThickness", 0.6]])).text;
  expect(JSON.parse(set(toleranced, ["girth", [53, 53.2]]))).toMatchObject({
    girth: { readings: [53, 53.2], tolerance: 0.5 },
    hairThickness: 0.6,
  });
  expect(JSON.parse(set(stag, ["breadth", []], ["girth", [22.8, 22.9]]))).not.toHaveProperty("breadth");
});

test("the edit between two texts makes the one of the other, and touches no more than it must", () => {
  const { text } = added(minnow, ["girth", [53.5]]);
  const edit = editBetween(minnow, text);
  expect(edit).toBeDefined();
  if (!edit) return;
  expect(minnow.slice(0, edit.start) + edit.text + minnow.slice(edit.end)).toBe(text);
  expect(edit.text).toBe(", 53.5");
  expect(editBetween(text, text)).toBeUndefined();
});
