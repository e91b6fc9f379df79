import { describe, expect, test } from "vitest";
import type { Comparison } from "../../../src/build/versions/comparison";
import { emptyRecord } from "../../../src/extension/builds/designRecord";
import { PanelMessages } from "../../../src/extension/preview/panelMessages";
import { comparisonScene, volumeText } from "../../../src/extension/versions/comparisonScene";
import type { ComparisonRecord } from "../../../src/extension/versions/comparisons";
import { readToPreview } from "../../../src/preview/protocolChecks";
import { plainText } from "../plainText";

const comparison: Comparison = {
  design: "/court/wreath.headpiece.ts",
  revision: { asked: "HEAD", hash: "0a1b2c3d4e".padEnd(40, "0"), subject: "Nine reeds" },
  added: 5123,
  removed: 42,
  greatestDistance: 12.345,
  greatestAt: [1, 2, 3],
  parts: [
    { name: "reed 2", change: "added", what: [] },
    { name: "reed 9", change: "removed", what: [] },
    { name: "ring", change: "changed", what: ["radius 5 to 6 mm", "path up to 12.3 mm away"] },
    { name: "hoop", change: "changed", what: ["renamed from band"], was: "band" },
  ],
  changes: [
    { key: "massPrintedG", label: "printed mass", before: 412, after: 389, unit: "g", sentence: "" },
    { key: "parts.added", label: "parts added", after: "reed 2", unit: "", sentence: "reed 2 added" },
    { key: "findings.heavy", label: "finding", after: "heavy", unit: "", sentence: "it is heavy now" },
  ],
  sentence: "lighter by 23 g",
};
const mesh = { positions: new Float32Array(9), triangles: new Uint32Array([0, 1, 2]) };
const result = {
  comparison,
  meshes: {
    old: mesh,
    added: mesh,
    removed: { positions: new Float32Array(), triangles: new Uint32Array() },
  },
  hasMovedValues: false,
};
const names = ["ring", "reed 1", "reed 2", "hoop"];

describe("what a view says of a comparison", () => {
  const scene = comparisonScene(result, "spring", names, plainText);

  test("the commit as it was asked for, with a hash that people read", () => {
    expect(scene.revision).toEqual({ asked: "spring", hash: "0a1b2c3d", subject: "Nine reeds" });
    expect(scene.sentence).toBe("Lighter by 23 g.");
  });

  test("parts by name: those of now lead to their line, those of before do not", () => {
    expect(scene.parts).toEqual([
      { name: "reed 2", change: "added", what: "", part: 2 },
      { name: "reed 9", change: "removed", what: "", part: -1 },
      { name: "ring", change: "changed", what: "radius 5 to 6 mm; path up to 12.3 mm away", part: 0 },
      { name: "hoop", change: "renamed", what: "from band", part: 3 },
    ]);
  });

  test("measurements side by side; parts and findings have places of their own", () => {
    expect(scene.rows).toEqual([
      {
        label: "Printed mass",
        before: "412\u00a0g",
        now: "389\u00a0g",
        change: "−23\u00a0g (−5.6\u00a0%)",
      },
    ]);
    expect(scene.findings).toEqual(["It is heavy now."]);
  });

  test("volumes and the greatest distance", () => {
    expect([scene.added, scene.removed]).toEqual(["5.12 cm³", "42 mm³"]);
    expect(scene.greatest).toEqual({ text: "12.3 mm", at: [1, 2, 3] });
    const same = comparisonScene(
      { ...result, comparison: { ...comparison, greatestDistance: 0.001 } },
      "HEAD",
      names,
      plainText,
    );
    expect(same.greatest).toBeUndefined();
  });

  test("that parameters were moved", () => {
    expect(scene.notes).toEqual([]);
    const [note] = comparisonScene({ ...result, hasMovedValues: true }, "HEAD", names, plainText).notes;
    expect(note).toContain("as they were moved");
  });
});

test.each([
  [0, "nothing"],
  [0.4, "nothing"],
  [3.4, "3 mm³"],
  [100, "0.1 cm³"],
  [12_832.9, "12.8 cm³"],
  [431_200, "431 cm³"],
])("a volume of %d mm³ is %s", (volume, text) => {
  expect(volumeText(volume)).toBe(text);
});

describe("messages to a view", () => {
  const known: ComparisonRecord = { asked: "HEAD", isOutdated: false, messages: [], result };
  const messages = () => new PanelMessages(emptyRecord("/court/wreath.headpiece.ts"), 7, plainText);

  test("pass the checks of the other side; surfaces travel once", () => {
    const view = messages();
    const all = view.comparison(known, true);
    expect(all.map(({ kind }) => kind)).toEqual(["comparing", "comparison"]);
    for (const each of all) expect(readToPreview(structuredClone(each))).toEqual(each);
    const later = view.comparison({ ...known, isOutdated: true, stage: "measuring" }, true);
    expect(later.map(({ kind }) => kind)).toEqual(["comparing"]);
    expect(later[0]).toMatchObject({ isOutdated: true, stage: "measuring" });
  });

  test("bring them again to a view that was made anew, and after an end", () => {
    const view = messages();
    view.comparison(known, true);
    view.all(false);
    expect(view.comparison(known, true)).toHaveLength(2);
    expect(view.comparison(undefined, true)).toEqual([{ kind: "comparisonEnded" }]);
    expect(view.comparison(known, true)).toHaveLength(2);
  });

  test("bring none to a view that cannot draw", () => {
    const [, sent] = messages().comparison(known, false);
    expect(sent).toMatchObject({ kind: "comparison" });
    expect(sent.kind === "comparison" && sent.old.positions.byteLength).toBe(0);
    expect(readToPreview(sent)).toBe(sent);
  });
});
