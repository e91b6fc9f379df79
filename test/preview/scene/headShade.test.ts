import { expect, test } from "vitest";
import { headShade, shadeSize } from "../../../src/preview/scene/headShade";

const { columns, rows } = shadeSize;
const at = (map: Uint8Array, azimuth: number, elevation: number) => {
  const column = Math.floor((azimuth / 360 + 0.5) * columns) % columns;
  return map[Math.min(rows - 1, Math.floor((elevation / 180 + 0.5) * rows)) * columns + column];
};
const patch = (x: number, y: number, z: number) =>
  Float32Array.from({ length: 300 }, (_, i) => [x, y, z][i % 3] + ((i * 7919) % 13) - 6);

test("the head is dark where the piece touches it, and nowhere else", () => {
  const map = headShade([patch(0, 96, 0)], [0, 0, 0], [75, 95, 110]);
  expect(at(map, 0, 0)).toBeGreaterThan(60);
  expect(at(map, 180, 0)).toBe(0);
  expect(at(map, 0, 80)).toBe(0);
});

test("what is far off leaves no shade", () => {
  expect(headShade([patch(0, 200, 0)], [0, 0, 0], [75, 95, 110]).every((value) => value === 0)).toBe(true);
});

test("the seam at the back is closed", () => {
  const map = headShade([patch(0, -96, 0)], [0, 0, 0], [75, 95, 110]);
  expect(at(map, -178, 0)).toBeGreaterThan(40);
  expect(at(map, 178, 0)).toBeGreaterThan(40);
});
