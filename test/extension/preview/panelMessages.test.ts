import { expect, test } from "vitest";
import type { Report } from "../../../src/export/report";
import { type DesignRecord, emptyRecord } from "../../../src/extension/builds/designRecord";
import { compact, trimmed } from "../../../src/extension/builds/meshBuffers";
import { Picture } from "../../../src/extension/builds/picture";
import { CursorParts } from "../../../src/extension/preview/cursorPart";
import { PanelMessages } from "../../../src/extension/preview/panelMessages";
import { packMesh } from "../../../src/geometry/packedMesh";
import type { ToPreview } from "../../../src/preview/protocol";
import { readToPreview } from "../../../src/preview/protocolChecks";
import { factsWith, meshOf } from "../fakeEngine";
import { plainText } from "../plainText";

function record(version: number): DesignRecord {
  const picture = new Picture();
  const parts = [
    { part: 0, key: "a", mesh: meshOf(1) },
    { part: 1, key: "b", mesh: meshOf(2) },
  ];
  picture.takeDraft({ kind: "draft", head: "a head", parts }, { version, change: 0 });
  return {
    ...emptyRecord("/court/wreath.headpiece.ts"),
    version,
    status: "built",
    facts: factsWith([{ name: "reeds", kind: "count", default: 66, unit: "" }]),
    values: { reeds: 70, forgotten: 1 },
    picture,
  };
}

const versions = (messages: readonly ToPreview[]) =>
  messages.flatMap((each) => ("version" in each ? [each.version] : []));

test("all messages pass the checks of the other side", () => {
  const messages = new PanelMessages(record(3), 0, plainText).all(false);
  expect(messages.map(({ kind }) => kind)).toEqual(["design", "draft", "state"]);
  for (const message of messages) expect(readToPreview(message)).toBe(message);
});

test("versions grow when a view turns to a design that was built before the one it showed", () => {
  const later = new PanelMessages(record(9), 0, plainText);
  later.all(false);
  expect(later.lastSent).toBe(9);
  const earlier = new PanelMessages(record(2), later.lastSent, plainText);
  expect(Math.min(...versions(earlier.all(false)))).toBeGreaterThan(9);
  expect(earlier.buildVersion(earlier.lastSent)).toBe(2);
});

test("a draft leaves out what the view has, a new view gets all", () => {
  const shown = record(3);
  const messages = new PanelMessages(shown, 0, plainText);
  messages.all(false);
  const parts = [
    { part: 0, key: "a" },
    { part: 1, key: "c", mesh: meshOf(5) },
  ];
  expect(shown.picture?.takeDraft({ kind: "draft", head: "a head", parts }, { version: 4, change: 1 })).toBe(
    true,
  );
  expect(messages.draft()[0].parts.map(({ key, mesh }) => [key, mesh !== undefined])).toEqual([
    ["a", false],
    ["c", true],
  ]);
  const again = messages.all(false).find(({ kind }) => kind === "draft");
  expect(again?.kind === "draft" && again.parts.every(({ mesh }) => mesh !== undefined)).toBe(true);
});

test("of a finished design the solid is sent, and its figures", () => {
  const finished = record(3);
  const packed = packMesh({ ...meshOf(7), partOfTriangle: new Int32Array([0]) });
  finished.picture?.takeSolid({ kind: "solid", packed }, { version: 3, change: 0 });
  finished.report = { ...report };
  const messages = new PanelMessages(finished, 0, plainText);
  const all = messages.all(true);
  expect(all.map(({ kind }) => kind)).toEqual(["design", "solid", "state"]);
  for (const message of all) expect(readToPreview(message)).toBe(message);
  const design = messages.design(true);
  expect(design.facts).toContainEqual({ label: "Mass", value: "83.6 g printed" });
  expect(design.values).toEqual({ reeds: 70 });
  expect(design.fileValues).toEqual({ reeds: 66 });
  finished.change = 1;
  expect(messages.design(true).facts.some(({ label }) => label === "Mass")).toBe(false);
  expect(messages.state().isOutdated).toBe(true);
});

const report = {
  massPrintedG: 83.62,
  boxMm: { width: 200, depth: 210, height: 120 },
  filamentM: 28,
  material: { name: "PLA" },
  pieces: 1,
  closed: true,
  volumeCm3: 90,
  cautions: [],
  parts: [],
} as unknown as Report;

test("buffers that travel hold nothing but their mesh", () => {
  const large = new ArrayBuffer(1000);
  const window = new Float32Array(large, 16, 3).fill(2);
  expect(trimmed(window).byteLength).toBe(12);
  expect([...new Float32Array(trimmed(window))]).toEqual([2, 2, 2]);
  const whole = new Float32Array(3);
  expect(trimmed(whole)).toBe(whole.buffer);
});

test("packed bytes are copied only out of a buffer that holds much else", () => {
  const large = new Uint8Array(1000).fill(7);
  const most = large.subarray(4, 990);
  expect(compact(most)).toBe(most);
  const little = compact(large.subarray(4, 20));
  expect([little.buffer.byteLength, ...little]).toEqual([16, ...new Array(16).fill(7)]);
});

test("the cursor lights the innermost call, else the first in its line", () => {
  const file = "/court/a.headpiece.ts";
  const text = [
    "const core = tube('core', line, {",
    "  radius: 6,",
    "});",
    "const leaf = wrap(tube('leaf', line)), x = 1;",
    "return [core];",
  ].join("\n");
  const origin = (line: number, column: number) => ({ file, line, column });
  const part = (name: string, at: ReturnType<typeof origin>) => ({ name, kind: "tube" as const, origin: at });
  const parts = [
    part("core", origin(1, 14)),
    part("wrapped", origin(4, 14)),
    part("leaf 1", origin(4, 19)),
    part("leaf 2", origin(4, 19)),
  ];
  const cursor = new CursorParts(file, text, parts);
  expect(cursor.at(text.indexOf("6,"))).toBe(0);
  expect(cursor.at(text.indexOf("'leaf'"))).toBe(2);
  expect(cursor.at(text.indexOf("wrap(") + 2)).toBe(1);
  expect(cursor.at(text.indexOf("x = 1"))).toBe(1);
  expect(cursor.at(text.indexOf("return"))).toBe(-1);
  expect(new CursorParts("/court/other.ts", text, parts).at(3)).toBe(-1);
});
