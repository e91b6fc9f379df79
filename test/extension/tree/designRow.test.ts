import { expect, test } from "vitest";
import type { DesignState } from "../../../src/extension/designState";
import { designRow } from "../../../src/extension/tree/designRow";
import { plainTexts } from "../plainTexts";
import { builtState, message, plannedState, reportWith, unbuiltState } from "../states";

const row = (state: DesignState) => designRow(state, plainTexts);

test.each<[string, DesignState, string, string]>([
  ["never built", unbuiltState(), "unbuilt", ""],
  ["built", builtState(), "built", "130 g · fits"],
  ["planned", plannedState(), "built", "130 g · fits · 12 h 30 min"],
  ["older than the text", builtState({ isOutdated: true }), "outdated", "130 g · fits"],
  ["stopped, with a model from before", builtState({ status: "cancelled" }), "outdated", "130 g · fits"],
  ["stopped at its first build", unbuiltState({ status: "cancelled" }), "cancelled", "cancelled"],
  ["busy", builtState({ status: "building", stage: "uniting", share: 0.4 }), "building", "uniting 40 %"],
  ["busy with nothing known", unbuiltState({ status: "building" }), "building", "building"],
  [
    "in error",
    builtState({ status: "failed", messages: [message("error"), message("error"), message("warning")] }),
    "failed",
    "2 errors, 1 warning",
  ],
])("a design that is %s", (_, state, how, description) => {
  expect(row(state)).toMatchObject({ state: how, description });
});

test("each state has an icon of its own", () => {
  const states = [
    unbuiltState(),
    unbuiltState({ status: "building" }),
    builtState(),
    builtState({ isOutdated: true }),
    builtState({ status: "failed" }),
    unbuiltState({ status: "cancelled" }),
  ];
  expect(new Set(states.map((state) => row(state).icon)).size).toBe(states.length);
});

test("notes are no findings to unfold, warnings and errors are", () => {
  expect(row(builtState({ messages: [message("note")] })).hasFindings).toBe(false);
  expect(row(builtState({ messages: [message("warning")] })).hasFindings).toBe(true);
});

test("the tooltip tells the piece, its wearer, its figures and that it does not fit", () => {
  const plate = { ...builtState().report!.plates[0], fits: false, excessMm: 14 };
  const { tooltip, description } = row(builtState({ report: reportWith({ plates: [plate] }) }));
  expect(description).toBe("130 g · does not fit");
  expect(tooltip).toContain("**Coral crown** · built");
  expect(tooltip).toContain("| Wearer | Ondine, the pearl diver |");
  expect(tooltip).toContain("| Box | 212 × 198 × 140 mm |");
  expect(tooltip).toContain("| Plate | Hall printer, does not fit, 14 mm |");
});

test("a name that means something to Markdown is shown as it is", () => {
  const { tooltip } = row(builtState({ report: reportWith({ headpiece: "*a* [b](c) | <d>" }) }));
  expect(tooltip).toContain("**\\*a\\* \\[b\\](c) \\| \\<d\\>**");
});
