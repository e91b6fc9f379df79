import { expect, test } from "vitest";
import type { DesignState } from "../../../src/extension/designState";
import { choiceText, ownChoiceText } from "../../../src/extension/statusBar/partyPick";
import { statusLinks, statusText } from "../../../src/extension/statusBar/statusText";
import { plainTexts } from "../plainTexts";
import { builtState, message, plannedState, reportWith, unbuiltState } from "../states";

const shown = (state: DesignState, isTrusted = true) =>
  statusText("coral-crown", state, isTrusted, plainTexts);

test.each<[string, DesignState, string]>([
  ["built", builtState(), "130 g · 212 × 198 × 140 mm · fits"],
  ["planned", plannedState(), "130 g · 212 × 198 × 140 mm · fits · 12 h 30 min"],
  ["out of date", builtState({ isOutdated: true }), "$(history) 130 g · 212 × 198 × 140 mm · fits"],
  ["busy", builtState({ status: "building", stage: "uniting", share: 0.25 }), "$(sync~spin) uniting 25 %"],
  ["failed", builtState({ status: "failed", messages: [message("error")] }), "$(error) 1 error"],
  ["unbuilt", unbuiltState(), "$(circle-outline) coral-crown: not built yet"],
  ["stopped", unbuiltState({ status: "cancelled" }), "$(circle-slash) coral-crown: cancelled"],
])("the item of a design that is %s", (_, state, text) => {
  expect(shown(state)).toMatchObject({ text, isError: state.status === "failed" });
});

test("small pieces are weighed to the tenth", () => {
  expect(shown(builtState({ report: reportWith({ massPrintedG: 9.94 }) })).text).toMatch(/^9\.9 g/);
  expect(shown(builtState({ report: reportWith({ massPrintedG: 9.96 }) })).text).toMatch(/^10 g/);
});

test("in Restricted Mode it only says so, with no link", () => {
  const { text, tooltip } = shown(builtState(), false);
  expect(text).toBe("$(shield) coral-crown");
  expect(tooltip).toContain("trust");
  expect(tooltip).not.toContain("command:");
});

test("the tooltip links only to commands that it may run, and warns with every result", () => {
  for (const state of [builtState(), unbuiltState()]) {
    const { tooltip } = shown(state);
    const linked = [...tooltip.matchAll(/\(command:([^)]+)\)/g)].map(([, command]) => command);
    expect(linked.length).toBe(4);
    for (const command of linked) expect(statusLinks).toContain(command);
    expect(tooltip.includes("never protective equipment")).toBe(state.report !== undefined);
  }
});

test("the tooltip tells what the print takes, and until that is planned what the piece alone takes", () => {
  const { tooltip } = shown(plannedState());
  expect(tooltip).toContain("| Hours | 12 h 30 min; likely 12 to 16 h |");
  expect(tooltip).toContain("| Filament | 141 g, 47.4 m of PLA, 12 g of it for supports |");
  expect(tooltip).toContain("| Spools | one is enough |");
  expect(tooltip).toContain("| Supports | 38.2 cm³ in 14 places, 15.5 cm² touched |");
  const before = shown(builtState()).tooltip;
  expect(before).toContain("| Filament | 43.5 m of PLA |");
  expect(before).not.toContain("Hours");
});

test("a name cannot smuggle a link into the tooltip", () => {
  const { tooltip } = shown(builtState({ report: reportWith({ headpiece: "[x](command:other)" }) }));
  expect(tooltip).toContain("\\[x\\](command:other)");
});

test("choices tell the figures, mark the current one and say what is wrong with a broken one", () => {
  const summary = { name: "Pip, the Minnow", detail: "535 mm · hat 54", facts: [], warnings: [] };
  const place = { path: "samples/minnow.wearer.json", label: "minnow" };
  expect(choiceText({ ...place, summary, isCurrent: true })).toEqual({
    label: "$(check) Pip, the Minnow",
    description: "535 mm · hat 54",
    detail: "samples/minnow.wearer.json",
  });
  const broken = { detail: "the file is empty", facts: [], warnings: [], error: message("error") };
  expect(choiceText({ ...place, summary: broken, isCurrent: true }).label).toBe("$(error) minnow");
});

test("the design's own choice says which file that is, or what stands in", () => {
  expect(ownChoiceText("wearer", "a.wearer.json", false, plainTexts).description).toBe("a.wearer.json");
  expect(ownChoiceText("printer", undefined, true, plainTexts)).toMatchObject({
    label: "$(check) The design's own",
    description: "none named: 220 × 220 × 250 mm",
  });
});
