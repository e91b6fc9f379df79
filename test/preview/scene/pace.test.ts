import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { Pace } from "../../../src/preview/scene/pace";

const frame = 16;
const told: string[] = [];
const context = { isLost: false, isSlow: false, done: () => Promise.resolve() };
const piece = { isSolid: true, isEmpty: false };
let pace: Pace;

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal("requestAnimationFrame", (act: () => void) => setTimeout(act, frame));
  vi.stubGlobal("cancelAnimationFrame", (handle: ReturnType<typeof setTimeout>) => clearTimeout(handle));
  told.length = 0;
  Object.assign(context, { isLost: false, isSlow: false });
  Object.assign(piece, { isSolid: true, isEmpty: false });
  pace = new Pace(context, piece, {
    onDraw: (isFine) => told.push(isFine ? "fine" : "quick"),
    onSettle: () => told.push("settle"),
    onSort: () => told.push("sort"),
  });
});
afterEach(() => {
  pace.dispose();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** What was told since it was last asked. */
const heard = async (milliseconds: number) => {
  await vi.advanceTimersByTimeAsync(milliseconds);
  return told.splice(0);
};

test("many changes are drawn once, with the next frame, or with what is drawn at once", async () => {
  for (let i = 0; i < 5; i++) pace.drawSoon();
  expect(await heard(0)).toEqual([]);
  expect(await heard(1000)).toEqual(["fine"]);
  pace.drawSoon();
  pace.draw();
  expect(await heard(1000)).toEqual(["fine"]);
  pace.drawSoon();
  expect(await heard(frame)).toEqual(["fine"]);
});

test("what is to be shown now is drawn once with all else of its task, and told when it is on its way", async () => {
  const onWay = () => told.push("on its way");
  pace.drawAtTaskEnd(onWay);
  pace.drawSoon();
  pace.drawAtTaskEnd(onWay);
  pace.drawSoon();
  expect(told).toEqual([]);
  await Promise.resolve();
  expect(told.splice(0)).toEqual(["fine", "on its way", "on its way"]);
  expect(await heard(1000)).toEqual([]);
  pace.drawAtTaskEnd(onWay);
  pace.draw();
  expect(await heard(1000)).toEqual(["fine", "on its way"]);
});

test("last touches come once nothing changes any more", async () => {
  pace.settleSoon();
  await heard(100);
  pace.settleSoon();
  expect(await heard(100)).toEqual([]);
  expect(await heard(100)).toEqual(["settle", "fine"]);
});

describe("where the processor draws", () => {
  beforeEach(() => {
    context.isSlow = true;
  });

  test("smooth edges wait, and longer for a solid that is on its way", async () => {
    pace.draw();
    expect(await heard(599)).toEqual(["quick"]);
    expect(await heard(1)).toEqual(["settle", "fine"]);
    piece.isSolid = false;
    pace.draw();
    expect(await heard(2999)).toEqual(["quick"]);
    expect(await heard(1)).toEqual(["settle", "fine"]);
  });

  test("the wait begins when the last picture stands on the screen", async () => {
    let isDone = () => {};
    const done = vi.spyOn(context, "done").mockReturnValueOnce(new Promise((act) => (isDone = () => act())));
    pace.draw();
    expect(await heard(5000)).toEqual(["quick"]);
    pace.draw();
    isDone();
    expect(await heard(600)).toEqual(["quick", "settle", "fine"]);
    expect(await heard(5000)).toEqual([]);
    done.mockRestore();
  });

  test("a picture that is asked for is fine at once", async () => {
    pace.draw("fine");
    expect(await heard(5000)).toEqual(["fine"]);
  });
});

test("marks are sorted once", async () => {
  pace.sortSoon();
  pace.sortSoon();
  expect(await heard(1000)).toEqual(["sort"]);
});

test("nothing is drawn in a lost context, and nothing after its end", async () => {
  context.isLost = true;
  const onWay = () => told.push("on its way");
  pace.draw();
  pace.drawSoon();
  pace.drawAtTaskEnd(onWay);
  expect(await heard(1000)).toEqual([]);
  context.isLost = false;
  pace.drawSoon();
  pace.drawAtTaskEnd(onWay);
  pace.settleSoon();
  pace.sortSoon();
  context.isSlow = true;
  pace.settleSoon();
  pace.dispose();
  expect(await heard(5000)).toEqual([]);
});
