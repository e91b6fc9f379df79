import { expect, test } from "vitest";
import { packFootprints, plateCount } from "../../../src/print/cuts/packing";

const rectangle = (width: number, depth: number) => ({
  triangles: Float64Array.from([0, 0, width, 0, width, depth, 0, 0, width, depth, 0, depth]),
});
const plate = { shape: "rectangular", width: 200, depth: 200 } as const;

test("four squares of 95 mm lie on a plate of 200 mm, a fifth on another", () => {
  const spots = packFootprints(
    Array.from({ length: 5 }, () => rectangle(95, 95)),
    plate,
    5,
  );
  expect(plateCount(spots)).toBe(2);
  expect(spots.filter((spot) => spot.plate === 0)).toHaveLength(4);
  // The fifth, alone, lies in the middle.
  expect(spots.find((spot) => spot.plate === 1)?.shift).toEqual([-47.5, -47.5]);
});

test("a small piece lies within the bend of a larger one", () => {
  const bend = {
    triangles: Float64Array.from([
      ...[0, 0, 190, 0, 190, 20, 0, 0, 190, 20, 0, 20],
      ...[0, 20, 20, 20, 20, 190, 0, 20, 20, 190, 0, 190],
    ]),
  };
  const spots = packFootprints([bend, rectangle(150, 150)], plate, 5);
  expect(plateCount(spots)).toBe(1);
});

test("rectangles at random keep the gap and stay on the plate, round or not", () => {
  const seed = 4711;
  console.info(`seed ${seed}`);
  let state = seed;
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
  for (const surface of [plate, { shape: "round", diameter: 220 } as const]) {
    const sizes = Array.from({ length: 14 }, () => [12 + 60 * random(), 12 + 60 * random()] as const);
    const spots = packFootprints(
      sizes.map(([w, d]) => rectangle(w, d)),
      surface,
      6,
    );
    for (const [i, { plate: on, shift }] of spots.entries()) {
      const [w, d] = sizes[i];
      for (const x of [shift[0], shift[0] + w]) {
        for (const y of [shift[1], shift[1] + d]) {
          if (surface.shape === "round") expect(Math.hypot(x, y)).toBeLessThanOrEqual(110 + 1e-6);
          else expect(Math.max(Math.abs(x), Math.abs(y))).toBeLessThanOrEqual(100 + 1e-6);
        }
      }
      for (const [j, other] of spots.slice(0, i).entries()) {
        if (other.plate !== on) continue;
        const dx = Math.max(other.shift[0] - shift[0] - w, shift[0] - other.shift[0] - sizes[j][0], 0);
        const dy = Math.max(other.shift[1] - shift[1] - d, shift[1] - other.shift[1] - sizes[j][1], 0);
        expect(Math.hypot(dx, dy)).toBeGreaterThanOrEqual(6 - 1e-9);
      }
    }
    expect(plateCount(spots)).toBeLessThanOrEqual(3);
  }
});
