import { describe, expect, it, test } from "vitest";
import {
  beginning,
  fieldCount,
  goTo,
  keptOf,
  standingOf,
  withReading,
} from "../../../src/pages/measuringGuide/guideState";
import { guidePage } from "../../../src/pages/measuringGuide/page";
import type { GuideMessage, GuideStep, VerdictMessage } from "../../../src/pages/measuringGuide/protocol";
import { readFromGuide, readKeptGuide, readToGuide } from "../../../src/pages/measuringGuide/protocolChecks";

const step = (measure: string, more: Partial<GuideStep> = {}): GuideStep => ({
  measure,
  title: measure,
  instrument: "tape measure",
  where: "there",
  how: "so",
  mistakes: "this",
  readings: 2,
  isNeeded: false,
  ...more,
});
const guide: GuideMessage = {
  kind: "guide",
  key: "file:///minnow",
  name: "Pip",
  unit: "cm",
  units: ["cm"],
  steps: [step("girth"), step("length"), step("hair", { readings: 1 })],
  entries: { girth: ["53.4", "53.6"], length: [], hair: [] },
  cautions: ["care"],
};
const verdict = (measure: string, severity?: "error" | "warning"): VerdictMessage => ({
  kind: "verdict",
  request: 1,
  canFinish: true,
  verdicts: {
    [measure]: { differ: severity === "warning", remarks: severity ? [{ severity, text: "no" }] : [] },
  },
});

describe("the state of the guide", () => {
  it("begins at the first measure that is open", () => {
    expect(beginning(guide, undefined).at).toBe(1);
    const full = { ...guide, entries: { girth: ["1"], length: ["1"], hair: ["1"] } };
    expect(beginning(full, undefined).at).toBe(0);
  });

  it("keeps what was typed over a reload, for the same wearer only", () => {
    const typed = goTo(withReading(beginning(guide, undefined), "length", 1, "18.2"), 2);
    const kept = readKeptGuide(JSON.parse(JSON.stringify(keptOf(typed))));
    expect(kept).toBeDefined();
    expect(beginning(guide, kept)).toMatchObject({ at: 2, entries: { length: ["", "18.2"] } });
    expect(beginning({ ...guide, key: "other" }, kept)).toMatchObject({ at: 1, entries: { length: [] } });
    expect(beginning({ ...guide, units: ["mm"], unit: "mm" }, kept).entries.length).toEqual([]);
  });

  it("shows a third field where readings differ, and all that are filled", () => {
    expect(fieldCount(guide.steps[0], guide.entries, false)).toBe(2);
    expect(fieldCount(guide.steps[0], guide.entries, true)).toBe(3);
    expect(fieldCount(guide.steps[0], { girth: ["1", "2", "", "4"] }, false)).toBe(4);
    expect(fieldCount(guide.steps[2], { hair: ["1", "2"] }, true)).toBe(1);
  });

  it("tells how each step stands", () => {
    const state = withReading(beginning(guide, undefined), "length", 0, "18");
    expect(standingOf(guide.steps[0], state, undefined)).toBe("taken");
    expect(standingOf(guide.steps[1], state, undefined)).toBe("once");
    expect(standingOf(guide.steps[2], state, undefined)).toBe("open");
    expect(standingOf(guide.steps[0], state, verdict("girth", "warning"))).toBe("doubtful");
    expect(standingOf(guide.steps[0], state, verdict("girth", "error"))).toBe("wrong");
    expect(standingOf(step("x", { stands: "22.9 ± 0.1" }), state, undefined)).toBe("taken");
  });

  it("does not leave the steps", () => {
    const state = beginning(guide, undefined);
    expect(goTo(state, -4).at).toBe(0);
    expect(goTo(state, 99).at).toBe(2);
  });
});

test("messages are taken whole, and nothing else", () => {
  expect(readToGuide(guide)).toBe(guide);
  expect(readToGuide(verdict("girth", "error"))).toBeDefined();
  expect(readToGuide({ ...guide, steps: [{ ...guide.steps[0], readings: 3 }] })).toBeUndefined();
  expect(readToGuide({ kind: "finished", isWritten: "yes", text: "" })).toBeUndefined();
  expect(readFromGuide({ kind: "ready" })).toBeDefined();
  expect(readFromGuide({ kind: "check", request: 1, unit: "mm", entries: { girth: ["567"] } })).toBeDefined();
  for (const wrong of [
    undefined,
    { kind: "toString" },
    { kind: "check", request: -1, unit: "mm", entries: {} },
    { kind: "check", request: 1, unit: "mm", entries: { girth: "567" } },
    { kind: "finish", unit: "mm", entries: { girth: ["x".repeat(41)] } },
    { kind: "finish", unit: "mm", entries: { girth: Array(10).fill("1") } },
  ]) {
    expect(readFromGuide(wrong)).toBeUndefined();
  }
});

test("the page lets only its own script and style in", () => {
  const parts = { nonce: "n1", cspSource: "https://own", script: "a.js", style: "a.css", language: "en" };
  const html = guidePage(parts);
  const policy = /Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1];
  expect(policy).toBe(
    "default-src 'none'; script-src 'nonce-n1'; style-src https://own; base-uri 'none'; form-action 'none'",
  );
  expect(html.match(/<script/g)).toHaveLength(1);
  expect(() => guidePage({ ...parts, nonce: "a'; script-src *" })).toThrow();
});
