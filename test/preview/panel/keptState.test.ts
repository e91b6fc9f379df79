import fc from "fast-check";
import { expect, test } from "vitest";
import { oncePerFrame } from "../../../src/preview/panel/frameThrottle";
import { camerasOf, type KeptState, readKeptState, usualState } from "../../../src/preview/panel/keptState";
import { readKeptDesign } from "../../../src/preview/protocolChecks";

const kept: KeptState = {
  camera: { target: [0, 1, 60], direction: [0, 1, 0], up: [0, 0, 1], span: 420 },
  plateCamera: { target: [5, 1, 90], direction: [0, -1, 0], up: [0, 0, 1], span: 320 },
  settings: {
    projection: "parallel",
    isHeadShown: false,
    isPlateShown: true,
    areDimensionsShown: true,
    isWireShown: false,
    areFindingsShown: false,
    isFieldShown: true,
    isBalanceShown: true,
    isPlateView: true,
    isOverhangShown: false,
    areDifferencesShown: false,
    comparisonShare: 0.25,
    printedHeight: 62.4,
    section: { axis: "up", share: 0.25 },
  },
  isSideOpen: false,
  sideWidth: 345,
  folded: ["facts", "wear", "plan", "parts"],
  design: { uri: "file:///stage/coral.headpiece.ts", isLocked: true, comparedWith: "0a1b2c3" },
};

test("what was kept comes back the same, through JSON", () => {
  const through = JSON.parse(JSON.stringify(kept));
  expect(readKeptState(through)).toEqual(kept);
  expect(readKeptDesign(through)).toEqual(kept.design);
});

test("what is unreadable is as usual, field by field", () => {
  expect(readKeptState(undefined)).toEqual(usualState);
  const odd = { camera: { ...kept.camera, span: -1 }, plateCamera: { span: 3 }, sideWidth: 9000 };
  expect(readKeptState({ ...kept, ...odd, folded: ["x", "facts"] })).toEqual({
    ...kept,
    camera: undefined,
    plateCamera: undefined,
    sideWidth: 520,
    folded: ["facts"],
  });
  expect(readKeptState({ settings: { section: { axis: "up", share: 2 } } }).settings).toEqual(
    usualState.settings,
  );
  expect(readKeptDesign({ design: { uri: "", isLocked: true } })).toBeUndefined();
  expect(readKeptDesign({ design: { ...kept.design, comparedWith: "--output=x" } })).toEqual({
    uri: "file:///stage/coral.headpiece.ts",
    isLocked: true,
  });
});

test("a camera is kept for the head and for the plate", () => {
  expect(camerasOf(kept)).toEqual({ head: kept.camera, plate: kept.plateCamera });
  expect(camerasOf(usualState)).toEqual({});
});

test.each([0, -3, "62", Number.NaN])("printed up to %j is all of it", (printedHeight) => {
  const { settings } = readKeptState({ ...kept, settings: { ...kept.settings, printedHeight } });
  expect(settings.printedHeight).toBeUndefined();
});

test("a state from before there was a plate view is read without it", () => {
  const { isPlateView, isOverhangShown, printedHeight, ...before } = kept.settings;
  expect([isPlateView, isOverhangShown, printedHeight]).toEqual([true, false, 62.4]);
  expect(readKeptState({ settings: before }).settings).toEqual({
    ...before,
    isPlateView: false,
    isOverhangShown: true,
  });
});

test("a state from before there were gap colours is read without them", () => {
  const { isFieldShown, isBalanceShown, ...before } = kept.settings;
  expect([isFieldShown, isBalanceShown]).toEqual([true, true]);
  expect(readKeptState({ ...kept, settings: before }).settings).toEqual({
    ...kept.settings,
    isFieldShown: false,
    isBalanceShown: false,
  });
});

test("whatever was kept, it is read without a throw", () => {
  fc.assert(
    fc.property(fc.jsonValue(), fc.constantFrom(...Object.keys(kept)), (value, name) => {
      const state = readKeptState({ ...kept, [name]: value });
      expect(Number.isFinite(state.sideWidth)).toBe(true);
      expect(typeof state.isSideOpen).toBe("boolean");
      readKeptState(value);
    }),
  );
});

test("one call a frame, with the latest value", () => {
  const calls: number[] = [];
  const frames: (() => void)[] = [];
  const throttled = oncePerFrame<number>(
    (value) => calls.push(value),
    (callback) => frames.push(callback),
  );
  const next = () => frames.splice(0).forEach((frame) => void frame());
  throttled.call(1);
  throttled.call(2);
  expect([calls, frames.length]).toEqual([[], 1]);
  next();
  expect(calls).toEqual([2]);
  throttled.call(3);
  throttled.flush();
  expect(calls).toEqual([2, 3]);
  next();
  expect(calls).toEqual([2, 3]);
  throttled.call(4);
  throttled.drop();
  next();
  expect(calls).toEqual([2, 3]);
});
