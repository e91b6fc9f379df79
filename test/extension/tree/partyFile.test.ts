import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import type { PartyKind } from "../../../src/extension/designState";
import { summaryOfParty } from "../../../src/extension/tree/partyFile";
import { plainTexts } from "../plainTexts";

const folder = new URL("../../../samples/", import.meta.url);
const summary = (kind: PartyKind, name: string, change = (text: string) => text) => {
  const file = new URL(name, folder).pathname;
  return summaryOfParty(kind, change(readFileSync(file, "utf8")), file, plainTexts);
};

test("a wearer is told by girth and hat size, also where the file is in other units", () => {
  const queen = summary("wearer", "kelp-queen.wearer.json");
  expect(queen.name).toBe("Maris, the Kelp Queen");
  expect(queen.detail).toBe("556 mm · hat 56");
  const ram = summary("wearer", "ram-of-the-shoals.wearer.json");
  expect(ram.detail).toBe("594 mm · hat 59");
  // US sizes are the girth in inches over π (common practice, no source): 594 / 25.4 / π = 7.44, to the next eighth.
  expect(ram.facts).toContainEqual(["Hat size", "59, US 7 1/2"]);
});

test("measures that were not taken are told as estimated", () => {
  const facts = Object.fromEntries(summary("wearer", "marsh-warden.wearer.json").facts);
  expect(facts.Girth).toMatch(/^\d+(\.\d)? mm, estimated$/);
  expect(facts.Hair).toBe("4 mm");
});

test("printers are told by their size, materials by their density", () => {
  expect(summary("printer", "hall-220.printer.json").detail).toBe("220 × 220 × 250 mm");
  expect(summary("printer", "round-250.printer.json").detail).toBe("round 250 × 300 mm");
  expect(summary("material", "petg.material.json").detail).toBe("1.27 g/cm³ · softens at 80 °C");
});

test.each([
  ["no JSON", (text: string) => text.slice(0, -10)],
  ["a girth that no human has", (text: string) => text.replace("556", "55.6")],
  ["an unknown key", (text: string) => text.replace("girth", "grith")],
])("a broken file is told with the place of the error: %s", (_, change) => {
  const { error, name, detail } = summary("wearer", "kelp-queen.wearer.json", change);
  expect(name).toBeUndefined();
  expect(detail).toBe(error?.text);
  expect(error).toMatchObject({ severity: "error", line: expect.any(Number), column: expect.any(Number) });
});
