import { describe, expect, test } from "vitest";
import { nothingShown, receive } from "../../../src/preview/panel/shownState";
import { wearOfPicture, wearState } from "../../../src/preview/panel/wearState";
import type { ToPreview, WearScene } from "../../../src/preview/protocol";
import { design, draft, field, solid, state, wear } from "./rig";

const received = (...messages: ToPreview[]) => messages.reduce(receive, nothingShown);
const partial = (version: number): ToPreview =>
  wear(version, { verdict: undefined, rows: [{ check: "gap", label: "Gap", value: "3 mm", tone: "good" }] });
const built = (version: number) => [design(version), solid(version), state(version, "ready")];
const answersOf = (shown: ReturnType<typeof wearState>) =>
  shown.rows.map(({ value, isOld }) => [value, isOld]);

describe("what is older than the picture is dropped", () => {
  test.each([
    ["wear", wear(4)],
    ["field", field(4)],
  ])("%s", (_, message) => {
    for (const newer of [solid(5), draft(5)]) {
      const shown = received(newer);
      expect(receive(shown, message)).toBe(shown);
    }
    const same = received(solid(4));
    expect(receive(same, message)).not.toBe(same);
  });

  test("and what is older than its own kind", () => {
    const shown = received(wear(5), field(5));
    expect(receive(shown, wear(4))).toBe(shown);
    expect(receive(shown, field(4))).toBe(shown);
  });

  test("another design takes all of it away", () => {
    const other = design(9, { uri: "file:///stage/kelp.headpiece.ts", file: "kelp.headpiece.ts" });
    const shown = received(...built(5), wear(5), field(5), other);
    expect(shown).toMatchObject({ wear: undefined, judged: undefined, field: undefined });
    expect(wearState(shown).isKnown).toBe(false);
  });
});

describe("the verdict", () => {
  test("of the solid that is shown is not old", () => {
    const shown = received(...built(5), wear(5));
    expect(wearState(shown)).toMatchObject({ isKnown: true, isOld: false, isChecking: false });
    expect(wearOfPicture(shown)?.marks).toHaveLength(1);
  });

  test("is old as soon as a new build starts, and nothing of it is drawn on another picture", () => {
    const building = received(...built(5), wear(5), state(6, "building"));
    expect(wearState(building)).toMatchObject({ isOld: true, isChecking: false });
    // The picture is still of that solid.
    expect(wearOfPicture(building)).toBeDefined();
    const drafted = receive(building, draft(6));
    expect(wearState(drafted)).toMatchObject({ isOld: true, verdict: { word: "adjust" } });
    expect(wearOfPicture(drafted)).toBeUndefined();
  });

  test("stays, old, while the new solid is checked; rows are answered in their places", () => {
    const shown = received(...built(5), wear(5), ...built(6));
    expect(wearState(shown)).toMatchObject({ isOld: true, isChecking: true });
    const checking = wearState(receive(shown, partial(6)));
    expect(checking).toMatchObject({ isOld: true, isChecking: true, verdict: { word: "adjust" } });
    expect(answersOf(checking)).toEqual([
      ["3 mm", false],
      ["from above", true],
    ]);
    const done = wearState(
      receive(receive(shown, partial(6)), wear(6, { verdict: { word: "wear", reasons: [] } })),
    );
    expect(done).toMatchObject({ isOld: false, isChecking: false, verdict: { word: "wear" } });
    expect(done.rows.every(({ isOld }) => !isOld)).toBe(true);
  });

  test("is not there while the first solid is checked", () => {
    const shown = wearState(received(...built(5), partial(5)));
    expect(shown).toMatchObject({ isKnown: true, isOld: false, isChecking: true });
    expect(shown.verdict).toBeUndefined();
  });

  test.each(["failed", "cancelled"] as const)("is of the last good solid after a build that %s", (phase) => {
    const shown = received(...built(5), wear(5), state(6, phase, { isOutdated: true }));
    expect(wearState(shown)).toMatchObject({ isOld: true, isChecking: false });
  });

  test("comes back with its solid when the window does, though a newer build failed", () => {
    const shown = received(state(7, "failed", { isOutdated: true }), design(4), solid(4), wear(4));
    expect(wearState(shown)).toMatchObject({ isOld: true, verdict: { word: "adjust" } });
  });

  test("rows of one check that became more or fewer are all of the new solid", () => {
    const two: WearScene["rows"] = [
      { check: "gap", label: "Gap", value: "1", tone: "good" },
      { check: "gap", label: "Play", value: "2", tone: "good" },
      { check: "heat", label: "Heat", value: "3", tone: "note" },
    ];
    const shown = received(...built(5), wear(5, { rows: two }), ...built(6), partial(6));
    expect(answersOf(wearState(shown))).toEqual([
      ["3 mm", false],
      ["3", true],
    ]);
  });
});
