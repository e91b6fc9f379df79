import { describe, expect, test } from "vitest";
import {
  dashed,
  edgeAt,
  gridLines,
  gridStep,
  outlinePoints,
  volumeLines,
} from "../../../src/preview/scene/plateOutline";

const rectangular = { shape: "rectangular", width: 220, depth: 200 } as const;
const round = { shape: "round", diameter: 250 } as const;

const lengthOf = (lines: readonly number[]) => {
  let length = 0;
  for (let i = 0; i < lines.length; i += 6) {
    length += Math.hypot(lines[i + 3] - lines[i], lines[i + 4] - lines[i + 1], lines[i + 5] - lines[i + 2]);
  }
  return length;
};

describe("edge", () => {
  test("is as long as the outline is round", () => {
    expect(lengthOf(edgeAt(rectangular, 0))).toBeCloseTo(2 * (220 + 200), 9);
    // A regular polygon of n sides in a circle of diameter d: n d sin(π / n).
    const n = outlinePoints(round).length;
    expect(lengthOf(edgeAt(round, 5))).toBeCloseTo(n * 250 * Math.sin(Math.PI / n), 6);
    expect(Math.PI * 250 - lengthOf(edgeAt(round, 5))).toBeLessThan(0.2);
  });

  test("stands at its height", () => {
    expect(edgeAt(round, 7).filter((_, i) => i % 3 === 2)).toEqual(new Array(256).fill(7));
  });
});

describe("grid", () => {
  test("has a line each 10 mm from the middle, none on the edge or beyond", () => {
    const lines = gridLines(rectangular);
    // 21 lines across a width of 220, 19 along a depth of 200.
    expect(lines.length / 6).toBe(21 + 19);
    for (let i = 0; i < lines.length; i += 6) {
      const along = lines[i] === lines[i + 3] ? lines[i] : lines[i + 1];
      expect(Math.abs(along % gridStep)).toBe(0);
    }
  });

  test("ends on a round plate's edge", () => {
    const lines = gridLines(round);
    expect(lines.length / 6).toBe(50);
    for (let i = 0; i < lines.length; i += 3) expect(Math.hypot(lines[i], lines[i + 1])).toBeCloseTo(125, 9);
  });
});

test("the build volume has four uprights and an upper edge", () => {
  expect(lengthOf(volumeLines(rectangular, 250))).toBeCloseTo(4 * 250 + 840, 9);
  expect(lengthOf(volumeLines(round, 300)) - lengthOf(edgeAt(round, 300))).toBeCloseTo(4 * 300, 9);
});

describe("dashes", () => {
  test("cover 6 of each 10 mm, and stay on the line", () => {
    expect(lengthOf(dashed([0, 0, 0, 100, 0, 0]))).toBeCloseTo(60, 9);
    const ends = dashed([0, 0, 0, 100, 0, 0]).filter((_, i) => i % 3 === 0);
    expect(Math.min(...ends)).toBe(0);
    expect(Math.max(...ends)).toBeLessThanOrEqual(100);
  });

  test("run on round a corner and over short sides", () => {
    const share = lengthOf(dashed(edgeAt(round, 0))) / lengthOf(edgeAt(round, 0));
    expect(share).toBeCloseTo(0.6, 2);
  });
});
