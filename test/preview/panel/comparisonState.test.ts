import { describe, expect, test } from "vitest";
import { partsSummary } from "../../../src/preview/panel/comparisonSection";
import { comparisonStep, movedShare, shareText } from "../../../src/preview/panel/comparisonShare";
import {
  comparisonMark,
  comparisonState,
  comparisonStatus,
  comparisonText,
} from "../../../src/preview/panel/comparisonState";
import { readKeptState } from "../../../src/preview/panel/keptState";
import { type Performer, performAction } from "../../../src/preview/panel/performAction";
import { nothingShown, receive } from "../../../src/preview/panel/shownState";
import { usualViewSettings } from "../../../src/preview/pieceView";
import type { ToPreview } from "../../../src/preview/protocol";
import { comparing, comparison, design, loose, solid, thrown } from "./rig";

const received = (...messages: ToPreview[]) => messages.reduce(receive, nothingShown);
const built = [design(5), solid(5)];

describe("a comparison", () => {
  test("is not there before one is asked for, and ends", () => {
    expect(comparisonState(received(...built))).toBeUndefined();
    const shown = received(...built, comparing(5), comparison(5), { kind: "comparisonEnded" });
    expect(comparisonState(shown)).toBeUndefined();
    expect(receive(shown, { kind: "comparisonEnded" })).toBe(shown);
  });

  test("is told while it is made, when it came, when it is outdated and made again", () => {
    const begun = received(...built, comparing(5, { stage: "building the old piece" }));
    expect(comparisonStatus(comparisonState(begun)!)).toBe("Comparing with HEAD~1: building the old piece…");
    expect(comparisonText(comparisonState(begun))).toBe("");

    const done = [comparing(5), comparison(5)].reduce(receive, begun);
    expect(comparisonStatus(comparisonState(done)!)).toBe("");
    expect(comparisonText(comparisonState(done))).toBe(
      "Compared with HEAD~1: Heavier by 6 g; 1 tube added (branch 2).",
    );

    const old = receive(done, comparing(6, { isOutdated: true }));
    expect(comparisonState(old)).toMatchObject({ isOutdated: true, scene: comparison(5).scene });
    expect(comparisonStatus(comparisonState(old)!)).toContain("Out of date");
    expect(comparisonText(comparisonState(old))).toBe("");

    const again = receive(old, comparing(6, { isOutdated: true, stage: "measuring" }));
    expect(comparisonStatus(comparisonState(again)!)).toBe(
      "Comparing with HEAD~1: measuring… What is shown is of an older piece.",
    );
  });

  test("that came to nothing says why, and keeps the one before as outdated", () => {
    const failed = received(...built, comparing(5, { messages: [loose, thrown] }));
    expect(comparisonStatus(comparisonState(failed)!)).toBe("It could not be compared with HEAD~1.");
    expect(comparisonText(comparisonState(failed))).toBe(`Not compared with HEAD~1: ${thrown.text}`);
    const kept = received(
      ...built,
      comparing(5),
      comparison(5),
      comparing(6, { isOutdated: true, messages: [thrown] }),
    );
    expect(comparisonState(kept)?.scene).toBeDefined();
    expect(comparisonStatus(comparisonState(kept)!)).toContain("an older piece");
  });

  test("with another commit shows nothing of the one before", () => {
    const other = received(...built, comparing(5), comparison(5), comparing(5, { revision: "spring" }));
    expect(comparisonState(other)).toEqual({ revision: "spring", isOutdated: false, messages: [] });
  });

  test("that is older than what is shown is dropped", () => {
    const shown = received(...built, comparing(6), comparison(6));
    expect(receive(shown, comparison(5))).toBe(shown);
    expect(receive(shown, comparing(5))).toBe(shown);
  });

  test("goes with its design", () => {
    const other = design(9, { uri: "file:///stage/kelp.headpiece.ts", file: "kelp.headpiece.ts" });
    expect(comparisonState(received(...built, comparing(5), comparison(5), other))).toBeUndefined();
  });

  test("marks where the surfaces lie farthest apart; nowhere where they are the same", () => {
    expect(comparisonMark(comparison(5))).toEqual([
      { part: -1, severity: "note", text: "Greatest distance: 41 mm", at: [10, 20, 120] },
    ]);
    expect(comparisonMark(comparison(5, { greatest: undefined }))).toEqual([]);
    expect(comparisonMark(undefined)).toEqual([]);
  });

  test("counts its parts by what became of them", () => {
    const one = { name: "a", what: "", part: 0 };
    const parts = (["removed", "added", "added", "renamed"] as const).map((change) => ({ ...one, change }));
    expect(partsSummary(parts)).toBe("2 added, 1 removed, 1 renamed");
    expect(partsSummary([])).toBe("");
  });
});

describe("the slider between the two pieces", () => {
  test("goes in eight steps and stops at both ends", () => {
    let share = 0.5;
    const seen = Array.from({ length: 6 }, () => (share = movedShare(share, -comparisonStep)));
    expect(seen).toEqual([0.375, 0.25, 0.125, 0, 0, 0]);
    expect(movedShare(0.95, comparisonStep)).toBe(1);
  });

  test("says where it stands", () => {
    expect([0, 0.25, 0.5, 0.9, 1].map(shareText)).toEqual([
      "The old piece",
      "50 percent towards the old piece",
      "Both, with all that differs",
      "80 percent towards the piece of now",
      "The piece of now",
    ]);
  });

  test("is kept over a reload, and an impossible place is not", () => {
    expect(readKeptState({ settings: { comparisonShare: 0.25 } }).settings.comparisonShare).toBe(0.25);
    for (const comparisonShare of [-1, 2, "0.5", null, Number.NaN]) {
      expect(readKeptState({ settings: { comparisonShare } }).settings.comparisonShare).toBe(0.5);
    }
  });
});

describe("keys", () => {
  const stand = (hasComparison: boolean, more: object = {}) => {
    const said: string[] = [];
    const asked: unknown[] = [];
    const preview = {
      settings: { ...usualViewSettings, ...more },
      hasComparison,
      isOnPlate: false,
      setSettings(settings: typeof usualViewSettings) {
        this.settings = settings;
      },
      say: (text: string) => said.push(text),
      sayAtRest: (text: string) => said.push(text),
      ask: (message: unknown) => asked.push(message),
    };
    const does = (action: Parameters<typeof performAction>[1]) =>
      performAction(preview as unknown as Performer, action);
    return { preview, said, asked, does };
  };

  test("switch the differences and move between the pieces", () => {
    const { preview, said, does } = stand(true);
    does("differences");
    expect(preview.settings.areDifferencesShown).toBe(false);
    does("towardsOld");
    expect(preview.settings).toMatchObject({ areDifferencesShown: true, comparisonShare: 0.375 });
    does("towardsNew");
    expect(said).toEqual([
      "Differences hidden",
      "25 percent towards the old piece",
      "Both, with all that differs",
    ]);
  });

  test("say how to compare where nothing is compared", () => {
    const { preview, said, asked, does } = stand(false);
    for (const action of ["differences", "towardsOld", "towardsNew"] as const) does(action);
    expect(preview.settings).toEqual(usualViewSettings);
    expect(new Set(said)).toEqual(new Set(["The piece is not compared: Shift+V compares it with a commit."]));
    does("compare");
    does("endComparison");
    expect(asked).toEqual([
      { kind: "command", command: "compareWithCommit" },
      { kind: "command", command: "endComparison" },
    ]);
  });
});
