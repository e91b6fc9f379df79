import { expect, test } from "vitest";
import type { Vec2 } from "../../../src/geometry/vector";
import { areUnlike, chooseKeys, fitsWithin, grown, keySection } from "../../../src/print/cuts/keys";

const rectangle = (w: number, h: number): Vec2[] => [
  [-w / 2, -h / 2],
  [w / 2, -h / 2],
  [w / 2, h / 2],
  [-w / 2, h / 2],
];

test("a rectangle in a rectangle, upright, across and aslant", () => {
  expect(fitsWithin(rectangle(4, 2), rectangle(4.1, 2.1))).toBe(true);
  expect(fitsWithin(rectangle(4, 2), rectangle(2.1, 4.1))).toBe(true);
  expect(fitsWithin(rectangle(5, 2), rectangle(4, 4))).toBe(false);
  // A long one lies aslant in a square of side s where (p + q) / √2 ≤ s (Carver 1957, from memory).
  expect(fitsWithin(rectangle(12, 0.5), rectangle(9, 9))).toBe(true);
  expect(fitsWithin(rectangle(12, 1.5), rectangle(9, 9))).toBe(false);
});

test("an outline grown by its room lies that far out on every side", () => {
  for (const [x, y] of grown(rectangle(6, 4), 0.5)) {
    expect([Math.abs(x), Math.abs(y)]).toEqual([3.5, 2.5]);
  }
});

test("eight joints with the same room get eight keys that cannot be mistaken", () => {
  const keys = chooseKeys(
    Array.from({ length: 8 }, () => ({ radiusAt: (length: number) => (length <= 12 ? 6 : 0) })),
    0.2,
  );
  expect(keys.every((one) => one?.isUnique)).toBe(true);
  for (const [i, one] of keys.entries()) {
    for (const other of keys.slice(0, i)) expect(areUnlike(one!.key, other!.key, 0.2)).toBe(true);
  }
  expect(areUnlike(keys[0]!.key, keys[0]!.key, 0.2)).toBe(false);
  for (const [x, y] of keySection(keys[0]!.key)) expect(Math.hypot(x, y)).toBeLessThanOrEqual(6 + 1e-9);
});

test("where there is no room there is no key, and where all are used that is told", () => {
  expect(chooseKeys([{ radiusAt: () => 0.9 }], 0.2)).toEqual([undefined]);
  const narrow = { radiusAt: (length: number) => (length <= 4 ? 1.5 : 0) };
  expect(chooseKeys([narrow, narrow], 0.2).map((one) => one?.isUnique)).toEqual([true, false]);
});
