import { expect, test } from "vitest";
import { boxOf } from "../../../src/preview/scene/bounds";
import { cutOf } from "../../../src/preview/scene/section";
import { cube } from "./shapes";

const box = boxOf([cube(10, [100, 0, 50]).positions, new Float32Array([0, 20, 45])]);

test("the box holds all points; without points there is none", () => {
  expect(box).toEqual({ least: [0, -5, 45], most: [105, 20, 55] });
  expect(boxOf([])).toBeUndefined();
});

test.each([
  ["right", 0.5, [1, 0, 0], 52.5],
  ["forward", 0.2, [0, 1, 0], 0],
  ["up", 1, [0, 0, 1], 55],
  ["up", 0, [0, 0, 1], 45],
  ["up", 7, [0, 0, 1], 55],
] as const)("along %s at %d", (axis, share, normal, offset) => {
  if (!box) throw new Error("no box");
  const cut = cutOf({ axis, share }, box);
  expect(cut.normal).toEqual(normal);
  expect(cut.offset).toBeCloseTo(offset, 9);
});
