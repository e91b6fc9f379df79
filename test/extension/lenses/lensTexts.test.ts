import { expect, test } from "vitest";
import { commandIds } from "../../../src/extension/commandIds";
import type { DesignState } from "../../../src/extension/designState";
import { lensTexts } from "../../../src/extension/lenses/lensTexts";
import { plainTexts } from "../plainTexts";
import { builtState, message, plannedState, reportWith, unbuiltState, uri } from "../states";

const texts = (state: DesignState, named?: string, isTrusted = true) =>
  lensTexts(state, named, isTrusted, plainTexts).map(({ text }) => text);

test("a built design: wearer, mass and size, fit, then what can be done", () => {
  const state = builtState({ facts: { wearer: "Ondine" } as DesignState["facts"] });
  expect(texts(state)).toEqual([
    "$(account) Ondine",
    "130 g · 212 × 198 × 140 mm",
    "fits Hall printer",
    "Export",
    "Preview",
  ]);
});

test("an unbuilt design offers to be built, and names its wearer from the text", () => {
  expect(texts(unbuiltState(), "../wearers/minnow.wearer.json")).toEqual([
    "$(account) minnow",
    "$(play) Build",
    "Export",
    "Preview",
  ]);
  expect(texts(unbuiltState())[0]).toBe("$(account) no wearer named");
});

test("a wearer chosen for now stands before the one that the text names", () => {
  const chosen = { wearer: uri("/court/pearl-diver.wearer.json") };
  const [lens] = lensTexts(unbuiltState({ chosen }), "minnow.wearer.json", true, plainTexts);
  expect(lens.text).toBe("$(account) pearl-diver");
  expect(lens.tooltip).toContain("Chosen for now");
});

test("time and filament are told once the print is planned, and lead to its settings", () => {
  const lens = lensTexts(plannedState(), undefined, true, plainTexts).find(({ text }) =>
    text.includes("to print"),
  );
  expect(lens).toMatchObject({
    text: "12 h 30 min, 141 g to print",
    command: commandIds.choosePrintSettings,
  });
  expect(texts(builtState()).join()).not.toContain("to print");
  expect(texts(plannedState({ isOutdated: true })).join(), "of an older text").not.toContain("to print");
  expect(texts(plannedState({ isOutdated: true, status: "building" })).join()).toContain("to print");
});

test("a design in error leads to the problems, not to old figures", () => {
  const state = builtState({ status: "failed", messages: [message("error")] });
  const failed = lensTexts(state, undefined, true, plainTexts)[1];
  expect(failed).toMatchObject({ text: "$(error) 1 error", isPlain: true });
  expect(texts(state).join()).not.toContain("130 g");
});

test("figures stay while building and are marked once they are out of date", () => {
  expect(texts(builtState({ status: "building", isOutdated: true }))[1]).toBe("130 g · 212 × 198 × 140 mm");
  expect(texts(builtState({ isOutdated: true }))[1]).toBe("$(history) 130 g · 212 × 198 × 140 mm");
  expect(texts(unbuiltState({ status: "building" }))).toHaveLength(3);
});

test("what does not fit says so and leads to the printers", () => {
  const plate = { ...builtState().report!.plates[0], fits: false, excessMm: 14 };
  const lenses = lensTexts(
    builtState({ report: reportWith({ plates: [plate] }) }),
    undefined,
    true,
    plainTexts,
  );
  expect(lenses[2]).toMatchObject({
    text: "$(warning) does not fit Hall printer",
    command: commandIds.choosePrinter,
  });
});

test("in Restricted Mode only the committed report is offered", () => {
  expect(lensTexts(builtState(), undefined, false, plainTexts)).toMatchObject([
    { text: "Restricted Mode: committed report", command: commandIds.showReport },
  ]);
});
