import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { shareOf } from "../../../src/preview/panel/layerBar";
import {
  heightOfLayers,
  type Layers,
  layerAfterKey,
  layerHeightText,
  layersOf,
  layersUpTo,
  layerText,
  metresText,
  spokenLayer,
  spoolText,
  timeText,
} from "../../../src/preview/panel/layers";
import { layers } from "./rig";

/** 838 layers: 62.4 mm after 312 of them, 41 h 10 min and 128 m. */
const tall: Layers = {
  count: 838,
  height: 0.2,
  seconds: Float64Array.from({ length: 838 }, (_, i) => ((i + 1) * (41 * 3600 + 600)) / 312),
  metres: Float64Array.from({ length: 838 }, (_, i) => ((i + 1) * 128) / 312),
  spoolEnds: [411, 800],
};

describe("what stands after so many layers", () => {
  test("in one line", () => {
    expect(layerText(tall, 312)).toBe("layer 312 of 838 · 62.4 mm · 41 h 10 min · 128 m so far");
  });

  test("spoken, with the spool that ends there", () => {
    expect(spokenLayer(tall, 412)).toBe(
      "layer 412 of 838, 82.4 mm, 54 h 22 min, 169 m so far, spool 1 ends here",
    );
    expect(spokenLayer(tall, 413)).not.toMatch(/spool/);
  });

  test("and where the spools end", () => {
    expect(spoolText(tall, 0)).toBe("spool 1 ends in layer 412, at 82.4 mm after 54 h 22 min");
    expect(spoolText(tall, 1)).toMatch(/^spool 2 ends in layer 801, at 160.2 mm/);
  });

  test.each([
    [0, "0 s"],
    [40.4, "40 s"],
    [59.6, "1 min"],
    [750, "13 min"],
    [3570, "1 h"],
    [3599, "1 h"],
    [3661, "1 h 1 min"],
    [41 * 3600 + 600, "41 h 10 min"],
    [100 * 3600, "100 h"],
  ])("%d s is %s", (seconds, text) => {
    expect(timeText(seconds)).toBe(text);
  });

  test("metres and heights", () => {
    expect([metresText(0.04), metresText(3.42), metresText(9.96), metresText(128.4)]).toEqual([
      "0 m",
      "3.4 m",
      "10 m",
      "128 m",
    ]);
    expect([layerHeightText(3, 0.12), layerHeightText(1, 1), layerHeightText(2, 0.125)]).toEqual([
      "0.36 mm",
      "1.0 mm",
      "0.25 mm",
    ]);
  });
});

describe("walking through them", () => {
  test.each([
    ["ArrowRight", 313],
    ["ArrowUp", 313],
    ["ArrowLeft", 311],
    ["ArrowDown", 311],
    ["PageUp", 322],
    ["PageDown", 302],
    ["Home", 1],
    ["End", 838],
    ["Tab", undefined],
    ["toString", undefined],
  ])("%s", (key, printed) => {
    expect(layerAfterKey(key, 312, 838)).toBe(printed);
  });

  test("stops at the first and at the last", () => {
    expect(layerAfterKey("PageDown", 4, 838)).toBe(1);
    expect(layerAfterKey("PageUp", 835, 838)).toBe(838);
  });

  test("a height is a number of layers and back, and all stays all when the piece grows", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 5000 }),
        fc.constantFrom(0.05, 0.1, 0.12, 0.2, 0.28, 0.3, 1),
        fc.nat(),
        (count, height, at) => {
          const some = { ...tall, count, height };
          const printed = 1 + (at % count);
          expect(layersUpTo(some, heightOfLayers(some, printed))).toBe(printed);
        },
      ),
      { seed: 7, numRuns: 300 },
    );
    expect(heightOfLayers(tall, 838)).toBeUndefined();
    expect(layersUpTo({ ...tall, count: 900 }, undefined)).toBe(900);
    expect(layersUpTo({ ...tall, count: 10 }, 62.4)).toBe(10);
    expect(layersUpTo(tall, 0.01)).toBe(1);
  });

  test("marks stand on the track where the thumb would", () => {
    expect([shareOf(1, 11), shareOf(6, 11), shareOf(11, 11), shareOf(1, 1)]).toEqual([0, 0.5, 1, 1]);
  });
});

test("layers of one message are one, with spools in order", () => {
  const message = layers(4, { spoolEnds: [3, 1] });
  const read = layersOf(message);
  expect(layersOf(message)).toBe(read);
  expect(read.spoolEnds).toEqual([1, 3]);
  expect([...read.seconds]).toEqual([60, 120, 180, 240]);
  expect(layersOf({ ...message })).not.toBe(read);
});
