import { beforeEach, expect, test } from "vitest";
import { PictureFeed } from "../../../src/preview/panel/pictureFeed";
import { nothingShown, receive } from "../../../src/preview/panel/shownState";
import { type FindingMark, type PieceView, usualViewSettings } from "../../../src/preview/pieceView";
import type { ToPreview } from "../../../src/preview/protocol";
import {
  comparing,
  comparison,
  design,
  draft,
  loose,
  plan,
  planMark,
  sharp,
  solid,
  wear,
  wearMark,
} from "./rig";

const onPlate = { ...usualViewSettings, isPlateView: true };

let told: [name: string, ...given: unknown[]][];
let feed: PictureFeed;
let shown = nothingShown;

beforeEach(() => {
  told = [];
  shown = nothingShown;
  const view = new Proxy({} as PieceView, {
    get:
      (_, name: string) =>
      (...given: unknown[]) =>
        told.push([name, ...given]),
  });
  feed = new PictureFeed(view, () => told.push(["close the way"]));
});

/** What the view was told of these messages, one after the other. */
function calls(messages: readonly ToPreview[], settings = usualViewSettings, findings = [loose, sharp]) {
  told.length = 0;
  for (const message of messages) {
    const before = shown;
    shown = receive(before, message);
    feed.take(before, shown, message);
    feed.tell(shown, settings, findings);
  }
  return told.map(([name]) => name);
}
const marks = () => (told.findLast(([name]) => name === "setMarks")?.[1] ?? []) as FindingMark[];

test("a new piece ends the way on; models of another design go", () => {
  expect(calls([design(1), draft(1)])).toEqual(
    expect.arrayContaining(["setParts", "close the way", "showDraft"]),
  );
  expect(calls([solid(1)])).toEqual(["close the way", "showSolid"]);
  calls([design(2, { uri: "file:///stage/kelp.headpiece.ts", file: "kelp.headpiece.ts", parts: [] })]);
  expect(told[0]).toEqual(["showDraft", { kind: "draft", version: 2, parts: [] }]);
});

test("what is told again is not told to the view again", () => {
  calls([design(1), solid(1)]);
  expect(calls([wear(1)])).toEqual(["close the way", "setWay", "setBalance", "setMarks"]);
  expect(calls([wear(1), wear(1)])).toEqual([]);
  expect(calls([wear(1, { contacts: [] })])).toEqual(["setBalance"]);
  expect(calls([plan(1)])).toContain("showPlan");
});

test("on the head the marks of fit and wear stand, on the plate those of the plan", () => {
  calls([design(1), solid(1), wear(1), plan(1)]);
  const texts = () => marks().map(({ text }) => text);
  expect(texts()).toContain(wearMark().text);
  expect(texts()).not.toContain(planMark().text);
  told.length = 0;
  feed.tell(shown, onPlate, [loose, sharp]);
  expect(texts()).toContain(planMark().text);
  expect(texts()).not.toContain(wearMark().text);
});

test("nothing is marked on the draft of a newer piece that was found on the one before", () => {
  calls([design(1), solid(1), wear(1)]);
  calls([draft(2)]);
  expect(marks().map(({ text }) => text)).not.toContain(wearMark().text);
});

test("the old piece comes and goes with its comparison", () => {
  calls([design(1), solid(1)]);
  expect(calls([comparing(1), comparison(1)])).toContain("showComparison");
  expect(marks().map(({ text }) => text)).toContain("Greatest distance: 41 mm");
  calls([comparing(1, { isOutdated: true })]);
  expect(told).toContainEqual(["setComparisonOutdated", true]);
  calls([{ kind: "comparisonEnded" }]);
  expect(told).toContainEqual(["showComparison", undefined]);
  expect(marks().map(({ text }) => text)).not.toContain("Greatest distance: 41 mm");
});
