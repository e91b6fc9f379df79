import { describe, expect, test } from "vitest";
import type { Report } from "../../../src/export/report";
import { type DesignRecord, emptyRecord } from "../../../src/extension/builds/designRecord";
import { withPlanned } from "../../../src/extension/builds/knownPlan";
import { compact, trimmed } from "../../../src/extension/builds/meshBuffers";
import { Picture } from "../../../src/extension/builds/picture";
import { CursorParts } from "../../../src/extension/preview/cursorPart";
import { PanelMessages } from "../../../src/extension/preview/panelMessages";
import { packMesh } from "../../../src/geometry/packedMesh";
import type { ToPreview } from "../../../src/preview/protocol";
import { readToPreview } from "../../../src/preview/protocolChecks";
import { factsWith, meshOf, planFactsWith } from "../fakeEngine";
import { plainText } from "../plainText";
import { reportPlan } from "../states";

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

describe("the plan of a print", () => {
  const ways = ["as designed", "fewest hours"].map((name, i) => ({
    names: [name],
    words: i === 0 ? "upright" : "lying back, tilted 35°",
    isAsDesigned: i === 0,
    isChosen: i === 1,
    ...{ tiltDegrees: 35 * i, towardsDegrees: 180 * i, turnDegrees: 20 * i },
    ...{
      hours: 12.5 - i,
      supportCm3: 38.2,
      contactCm2: 12.1,
      heightMm: 140,
      footprintCm2: 8,
      thinColumns: 1,
    },
    fits: true,
  }));
  const facts = {
    ...planFactsWith({ ...reportPlan, orientations: ways }, [
      {
        ...{
          id: "thin-support",
          severity: "warning",
          text: "it peels",
          topic: "support",
          value: 28,
          unit: "",
        },
        ...{ at: [10, 20, 30], part: "reed 4", file: "/court/wreath.headpiece.ts", line: 12, column: 3 },
      } as const,
    ]),
    pictures: ["<svg/>"],
  };
  const planned = () => {
    const known = record(3);
    known.plan = withPlanned(undefined, { kind: "plan", plan: facts }, 3);
    known.plan = withPlanned(known.plan, { kind: "planBody", body: "supports", mesh: meshOf(4) }, 3);
    return known;
  };
  const kinds = (messages: readonly ToPreview[]) =>
    messages.map((each) => (each.kind === "planBody" ? each.body : each.kind));

  test("passes the checks of the other side", () => {
    const messages = new PanelMessages(planned(), 0, plainText).all(false);
    expect(kinds(messages)).toEqual(["design", "draft", "plan", "supports", "state"]);
    for (const message of messages) expect(readToPreview(message)).toBe(message);
  });

  test("is told ready to be read: lines, marks, ways up with their figures, layers", () => {
    const message = new PanelMessages(planned(), 0, plainText).plan()[0];
    if (message.kind !== "plan") throw new Error(message.kind);
    const { rows, marks, orientations, layers } = message.scene;
    expect(rows[0]).toMatchObject({ label: "Hours", value: "12 h 30 min; likely 12 to 16 h" });
    expect(marks).toMatchObject([
      { at: [10, 20, 30], severity: "warning", part: "reed 4", place: { line: 12 } },
    ]);
    expect(orientations.map(({ orientation }) => orientation)).toEqual([
      "as designed",
      { tilt: 35, towards: 180, turn: 20 },
    ]);
    expect(orientations.map(({ picture }) => picture)).toEqual(["<svg/>", undefined]);
    const hours = orientations.map(({ figures }) => figures.find(({ label }) => label === "Hours"));
    expect(hours).toEqual([
      { label: "Hours", value: "about 12 h 30 min", isBest: false },
      { label: "Hours", value: "about 11 h 30 min", isBest: true },
    ]);
    expect(layers?.count).toBe(1);
    expect([...new Float64Array(layers!.seconds)]).toEqual([60]);
  });

  test("goes out once, and so does each body; a new view gets all", () => {
    const known = planned();
    const messages = new PanelMessages(known, 0, plainText);
    messages.all(false);
    expect([...messages.plan(), ...messages.planBodies()]).toEqual([]);
    known.plan = withPlanned(known.plan, { kind: "planBody", body: "props", mesh: meshOf(5) }, 3);
    expect(kinds(messages.planBodies())).toEqual(["props"]);
    known.plan = withPlanned(known.plan, { kind: "planBody", body: "supports", mesh: meshOf(6) }, 3);
    expect(kinds(messages.planBodies()), "another one in its place").toEqual(["supports"]);
    known.plan = withPlanned(known.plan, { kind: "plan", plan: { ...facts, isWhole: true } }, 3);
    expect(kinds([...messages.plan(), ...messages.planBodies()])).toEqual(["plan"]);
    expect(kinds(messages.all(false))).toEqual(["design", "draft", "plan", "supports", "props", "state"]);
  });

  test("of a newer build brings its bodies again, also where there are none", () => {
    const known = planned();
    const messages = new PanelMessages(known, 0, plainText);
    messages.all(false);
    known.plan = withPlanned(known.plan, { kind: "plan", plan: facts }, 4);
    known.plan = withPlanned(known.plan, { kind: "planBody", body: "supports" }, 4);
    expect(messages.planBodies()).toEqual([{ kind: "planBody", version: 4, body: "supports" }]);
  });
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
