import { describe, expect, test } from "vitest";
import {
  fieldColour,
  fieldRange,
  fieldSummary,
  fieldTicks,
  noValue,
  scaleBytes,
  scaleSteps,
} from "../../../src/preview/fieldScale";
import { type Colour, linear, luminance } from "../../../src/preview/scene/colour";

/** CIE 1976 lightness from relative luminance (ISO/CIE 11664-4). */
const lightness = (colour: Colour): number => {
  const y = luminance(colour);
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : y * (29 / 3) ** 3;
};

/** CIELAB under D65; matrix of IEC 61966-2-1, four digits. */
const lab = (colour: Colour): [number, number, number] => {
  const [r, g, b] = linear(colour);
  const f = (t: number) => (t > (6 / 29) ** 3 ? Math.cbrt(t) : t / (3 * (6 / 29) ** 2) + 4 / 29);
  const x = f((0.4124 * r + 0.3576 * g + 0.1805 * b) / 0.9505);
  const y = f(0.2126 * r + 0.7152 * g + 0.0722 * b);
  const z = f((0.0193 * r + 0.1192 * g + 0.9505 * b) / 1.089);
  return [116 * y - 16, 500 * (x - y), 200 * (y - z)];
};

const steps = (from: number, to: number, step: number): number[] =>
  Array.from({ length: Math.round((to - from) / step) + 1 }, (_, i) => from + i * step);

describe("the scale of gaps", () => {
  const all = steps(fieldRange.least, fieldRange.most, 0.05);

  test("grows lighter with every step, from end to end", () => {
    const found = all.map((mm) => lightness(fieldColour(mm)));
    for (let i = 1; i < found.length; i++) expect(found[i]).toBeGreaterThan(found[i - 1]);
  });

  test("from touching on, by the same lightness for each mm", () => {
    for (const mm of steps(0, 9, 1)) {
      const step = lightness(fieldColour(mm + 1)) - lightness(fieldColour(mm));
      expect(step).toBeGreaterThan(5);
      expect(step).toBeLessThan(6);
    }
  });

  test("and by nearly the same difference of colour (CIE 1976)", () => {
    const found = steps(0, 9.5, 0.5).map((mm) => {
      const [a, b] = [lab(fieldColour(mm)), lab(fieldColour(mm + 0.5))];
      return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
    });
    expect(Math.max(...found) / Math.min(...found)).toBeLessThan(1.4);
  });

  test("runs from dark violet to pale yellow; beyond its ends nothing changes", () => {
    const [red, green, blue] = fieldColour(fieldRange.least);
    expect(blue).toBeGreaterThan(red);
    expect(red).toBeGreaterThan(green);
    expect(lightness(fieldColour(fieldRange.least))).toBeLessThan(20);
    const end = fieldColour(fieldRange.most);
    expect(Math.min(end[0], end[1])).toBeGreaterThan(end[2] + 0.2);
    expect(lightness(end)).toBeGreaterThan(90);
    expect(fieldColour(80)).toEqual(end);
    expect(fieldColour(-80)).toEqual(fieldColour(fieldRange.least));
  });

  test("what enters and what touches are told apart by more than a step", () => {
    const [below, at] = [lab(fieldColour(-0.001)), lab(fieldColour(0))];
    expect(at[0] - below[0]).toBeGreaterThan(8);
    expect(Math.hypot(at[0] - below[0], at[1] - below[1], at[2] - below[2])).toBeGreaterThan(25);
  });

  // Machado, Oliveira & Fernandes 2009, A physiologically-based model for simulation of color vision deficiency,
  // severity 1.0; the matrices from memory, each row sums to 1.
  test.each([
    [
      "protanopia",
      [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998],
    ],
    [
      "deuteranopia",
      [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.01182, 0.04294, 0.968881],
    ],
    [
      "tritanopia",
      [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.3039],
    ],
  ])("keeps its order to eyes with %s, and two ticks stay apart", (_, m) => {
    for (let row = 0; row < 9; row += 3) expect(m[row] + m[row + 1] + m[row + 2]).toBeCloseTo(1, 5);
    const seen = (mm: number): Colour => {
      const [r, g, b] = linear(fieldColour(mm));
      const shown = (row: number) => {
        const light = Math.min(1, Math.max(0, m[row] * r + m[row + 1] * g + m[row + 2] * b));
        return light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
      };
      return [shown(0), shown(3), shown(6)];
    };
    const found = steps(fieldRange.least, fieldRange.most, 0.25).map((mm) => lightness(seen(mm)));
    for (let i = 1; i < found.length; i++) expect(found[i]).toBeGreaterThan(found[i - 1]);
    const ticks = fieldTicks.map((mm) => lab(seen(mm)));
    for (let i = 1; i < ticks.length; i++) {
      const [a, b] = [ticks[i - 1], ticks[i]];
      expect(Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2])).toBeGreaterThan(9);
    }
  });

  test("as a row of colours nought lies between two of them", () => {
    const bytes = scaleBytes();
    expect(bytes.length).toBe(4 * scaleSteps);
    const nought = (scaleSteps * -fieldRange.least) / (fieldRange.most - fieldRange.least);
    expect(Number.isInteger(nought)).toBe(true);
    const at = (i: number) => [...bytes.subarray(4 * i, 4 * i + 3)];
    const of = (mm: number) => fieldColour(mm).map((value) => Math.round(255 * value));
    const half = (fieldRange.most - fieldRange.least) / scaleSteps / 2;
    expect(at(nought)).toEqual(of(half));
    expect(at(nought - 1)).toEqual(of(-half));
  });
});

describe("a field in numbers", () => {
  test("least, median and greatest leave out what has no value", () => {
    const values = Int16Array.of(250, noValue, -120, 4000, noValue, 30, 90);
    const given = values.slice();
    expect(fieldSummary(values)).toEqual({ least: -1.2, median: 0.9, most: 40 });
    expect(values).toEqual(given);
  });

  test("the lower of two middles; one value is all three", () => {
    expect(fieldSummary(Int16Array.of(100, 200, 300, 400))?.median).toBe(2);
    expect(fieldSummary(Int16Array.of(noValue, -5))).toEqual({ least: -0.05, median: -0.05, most: -0.05 });
  });

  test("nothing has no numbers", () => {
    expect(fieldSummary(new Int16Array(0))).toBeUndefined();
    expect(fieldSummary(Int16Array.of(noValue, noValue))).toBeUndefined();
  });
});
