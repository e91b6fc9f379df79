import { describe, expect, test } from "vitest";
import { orientationText } from "../../../src/preview/panel/orientationCards";
import { listedMarks, mostListed, planStatus } from "../../../src/preview/panel/planSection";
import { isOnPlate, planOfPicture, planState } from "../../../src/preview/panel/planState";
import { nothingShown, receive } from "../../../src/preview/panel/shownState";
import { planText } from "../../../src/preview/panel/textEquivalent";
import { marksOf, withoutMarked } from "../../../src/preview/panel/walk";
import type { ToPreview } from "../../../src/preview/protocol";
import { design, draft, loose, mesh, parts, plan, planMark, sharp, solid, state, wearMark } from "./rig";

const received = (...messages: ToPreview[]) => messages.reduce(receive, nothingShown);
const built = (version: number) => [design(version), solid(version), state(version, "ready")];
/** A plan that has just begun: nothing is known but where the plate stands. */
const begun = (version: number) =>
  plan(version, { isWhole: false, rows: [], marks: [], orientations: [], layers: undefined });

describe("the plan", () => {
  test("of the solid that is shown is not old", () => {
    const shown = received(...built(5), plan(5));
    expect(planState(shown)).toEqual({ scene: plan(5).scene, isOld: false, isPlanning: false });
    expect(planOfPicture(shown)).toBe(shown.plan?.scene);
  });

  test("is not there before one comes", () => {
    expect(planState(received(...built(5)))).toEqual({ isOld: false, isPlanning: false });
  });

  test("that has just begun is being made, and shows what it has", () => {
    const shown = received(...built(5), begun(5));
    expect(planState(shown)).toMatchObject({ isOld: false, isPlanning: true, scene: { rows: [] } });
    const half = receive(shown, plan(5, { isWhole: false }));
    expect(planState(half)).toMatchObject({ isOld: false, isPlanning: true });
    expect(planState(half).scene?.rows).toHaveLength(3);
  });

  test("of before stays, old, until the next has something to say", () => {
    const building = received(...built(5), plan(5), state(6, "building"));
    expect(planState(building)).toMatchObject({ isOld: true, isPlanning: false });
    const drafted = receive(building, draft(6));
    expect(planState(drafted)).toMatchObject({ isOld: true, isPlanning: false });
    expect(planOfPicture(drafted)).toBeUndefined();
    const again = received(...built(5), plan(5), ...built(6));
    expect(planState(again)).toMatchObject({ isOld: true, isPlanning: true });
    const begunAgain = receive(again, begun(6));
    expect(planState(begunAgain)).toMatchObject({ isOld: true, isPlanning: true });
    expect(planState(begunAgain).scene?.rows).toHaveLength(3);
    // The picture already knows where the plate stands now.
    expect(planOfPicture(begunAgain)?.rows).toEqual([]);
    const done = planState(receive(begunAgain, plan(6, { rows: [] })));
    expect(done).toMatchObject({ isOld: false, isPlanning: false, scene: { rows: [] } });
  });

  test.each(["failed", "cancelled"] as const)("is of the last good solid after a build that %s", (phase) => {
    const shown = received(...built(5), plan(5), state(6, phase, { isOutdated: true }));
    expect(planState(shown)).toMatchObject({ isOld: true, isPlanning: false });
  });

  test("goes with its design", () => {
    const other = design(9, { uri: "file:///stage/kelp.headpiece.ts", file: "kelp.headpiece.ts" });
    const shown = received(...built(5), plan(5), other);
    expect(shown).toMatchObject({ plan: undefined, planned: undefined });
  });

  test("says how it stands", () => {
    expect(planStatus(false, false)).toBe("");
    expect(planStatus(false, true)).toBe("Planning…");
    expect(planStatus(true, true)).toMatch(/^Planning….*last good build/);
    expect(planStatus(true, false)).toMatch(/^Out of date/);
  });
});

test("bodies on the plate are known each by its own version", () => {
  const supports = { kind: "planBody", version: 5, body: "supports", mesh: mesh() } as const;
  const shown = received(...built(5), supports, { kind: "planBody", version: 5, body: "pieces" });
  expect(shown.planBodies).toEqual({ supports: 5, pieces: 5 });
  expect(receive(shown, { ...supports, version: 4 })).toBe(shown);
});

test("the piece stands on the plate where that is wanted and the plate is known", () => {
  const wanted = { isPlateView: true };
  expect(isOnPlate(received(...built(5)), wanted)).toBe(false);
  expect(isOnPlate(received(...built(5), plan(5)), wanted)).toBe(true);
  expect(isOnPlate(received(...built(5), plan(5)), { isPlateView: false })).toBe(false);
});

describe("in words", () => {
  test("hours, filament, supports and which way up", () => {
    expect(planText(planState(received(...built(5), plan(5))))).toBe(
      "Print: time 41 h; filament 128 m, 381 g; supports 38 cm³; way up: fewest hours, lying back, tilted 90°.",
    );
  });

  test("an old one says so, a short one leaves out the later rows, none is nothing", () => {
    const shown = received(...built(5), plan(5), state(6, "building"));
    expect(planText(planState(shown), 1)).toBe(
      "Print, out of date: time 41 h; way up: fewest hours, lying back, tilted 90°.",
    );
    expect(planText({ isOld: false, isPlanning: false })).toBe("");
    expect(planText(planState(received(...built(5), begun(5))))).toBe("");
  });

  test("a way up says what is best in it and that it is chosen", () => {
    const [designed, fewest] = plan(1).scene.orientations;
    expect(orientationText(designed)).toBe("as designed: upright, time 44 h");
    expect(orientationText(fewest)).toBe("fewest hours, chosen: lying back, tilted 90°, time 41 h (best)");
  });
});

describe("marks", () => {
  const column = { ...loose, text: planMark().text };

  test("of the plan stand on the plate, those of fit and wear on the head", () => {
    const findings = [loose, column, { ...sharp, text: wearMark().text }];
    const onPlate = marksOf(withoutMarked(findings, [wearMark()]), [planMark()], parts);
    expect(onPlate.map(({ text, at }) => [text, at])).toEqual([
      [loose.text, undefined],
      [planMark().text, [10, 20, 30]],
    ]);
    const onHead = marksOf(withoutMarked(findings, [planMark()]), [wearMark()], parts);
    expect(onHead.map(({ text }) => text)).toEqual([loose.text, wearMark().text]);
  });

  test("lead to their lines", () => {
    expect(marksOf([], [planMark()], parts)).toEqual([
      { part: 1, severity: "warning", text: planMark().text, at: [10, 20, 30], place: planMark().place },
    ]);
  });

  test("are listed once each, the worst first, and not without end", () => {
    const marks = Array.from({ length: 12 }, (_, i) => planMark({ text: `column ${i % 10}` }));
    const { messages, more } = listedMarks([...marks, planMark({ severity: "error", text: "too tall" })]);
    expect(messages).toHaveLength(mostListed);
    expect(messages[0]).toMatchObject({ text: "too tall", line: 15, file: "/stage/coral.headpiece.ts" });
    expect(more).toBe(11 - mostListed);
  });
});
