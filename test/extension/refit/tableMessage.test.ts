import { expect, test } from "vitest";
import { rowFigures } from "../../../src/extension/refit/rowFigures";
import { tableMessage } from "../../../src/extension/refit/tableMessage";
import { readToRefitTable } from "../../../src/pages/refitTable/protocolChecks";
import { crown, minnow, queen, row } from "./rows";

const change = (key: string, sentence: string) => ({ key, label: key, unit: "g", sentence });
const whole = row(crown, minnow, {
  chance: 0.61,
  wayOn: { passes: true, summary: "from above" },
  plate: { printer: "Hall 220", fits: true, summary: "tilted 12°", pieces: 2 },
  filament: { metres: 70, grams: 210, material: "PLA" },
  changes: [
    change("wearer", "for Minnow instead of Kelp Queen"),
    change("massPrintedG", "printed mass 150 g instead of 212 g"),
    change("boxMm.width", "width 180 mm instead of 212 mm"),
    change("boxMm.depth", "depth 200 mm instead of 220 mm"),
  ],
  picture: "<svg/>",
});

test("a row is what the page takes: with its changes in short and whole, without paths", () => {
  const figures = rowFigures(whole);
  expect(readToRefitTable(structuredClone({ kind: "row", key: "a", figures }))).toBeDefined();
  expect(figures.changes?.all).toHaveLength(3);
  expect(figures.changes?.short).toContain("printed mass 150 g instead of 212 g");
  expect(figures.changes?.short).toContain("1 further change");
  expect(figures.wearer).toBe("minnow");
  expect(JSON.stringify(figures)).not.toContain("/court/");
  expect(rowFigures(row(crown, queen)).changes).toBeUndefined();
});

test("the table names files so that they are told apart, and marks the wearer in the preview", () => {
  const other = "/fresh/minnow.wearer.json";
  const rows = [queen, minnow, other].map((wearer) => ({
    key: wearer,
    design: crown,
    wearer,
    state: "current" as const,
    row: row(crown, wearer),
  }));
  const message = tableMessage(
    { groups: [{ design: crown, rows }], run: { phase: "idle", done: 3, all: 3 }, messages: [] },
    {
      scope: "design",
      design: { uri: "file:///court/coral-crown.headpiece.ts", path: crown },
      chosen: new Map([[crown, minnow]]),
    },
  );
  expect(readToRefitTable(structuredClone(message))).toEqual(message);
  expect(message.design?.label).toBe("coral-crown");
  expect(message.groups[0].rows.map(({ label, isChosen }) => [label, isChosen])).toEqual([
    ["kelp-queen", false],
    ["court/minnow", true],
    ["fresh/minnow", false],
  ]);
});

test("cautions stand below the table, as the gravest row asks for them", () => {
  const material = { name: "PLA", softening: [55, 60] as const };
  const cautioned = (mass: number) => ({ cautioned: { material, mass } });
  const rows = [row(crown, queen, cautioned(640)), row(crown, minnow, cautioned(90))].map((each) => ({
    key: each.wearer,
    design: crown,
    wearer: each.wearer,
    state: "current" as const,
    row: each,
  }));
  const subject = { scope: "all", chosen: new Map() } as const;
  const run = { phase: "idle", done: 2, all: 2 } as const;
  const { cautions } = tableMessage({ groups: [{ design: crown, rows }], run, messages: [] }, subject);
  expect(cautions[0]).toMatch(/costume, not protective equipment/);
  expect(cautions.join(" ")).toContain("640 g");
  expect(tableMessage({ groups: [], run, messages: [] }, subject).cautions).toEqual([]);
});
