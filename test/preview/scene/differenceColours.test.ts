import { describe, expect, test } from "vitest";
import {
  addedColour,
  comparisonManner,
  cssOf,
  removedColour,
  removedLine,
} from "../../../src/preview/differenceColours";
import { type Colour, contrast, linear, luminance } from "../../../src/preview/scene/colour";
import { themeOf } from "../../../src/preview/scene/theme";

/** CIE 1976 lightness from relative luminance (ISO/CIE 11664-4). */
const lightness = (colour: Colour): number => {
  const y = luminance(colour);
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : y * (29 / 3) ** 3;
};

describe("what was added and what was removed", () => {
  test("differ in lightness, not in hue alone", () => {
    expect(lightness(removedColour) - lightness(addedColour)).toBeGreaterThan(12);
  });

  // WCAG 2.2, 1.4.11: graphics stand out from what is next to them by 3 to 1. Backgrounds: white, the black of high
  // contrast, and the grey of a usual dark editor.
  test.each<[string, Colour]>([
    ["white", [1, 1, 1]],
    ["black", [0, 0, 0]],
    ["dark grey", [0x1f / 255, 0x1f / 255, 0x1f / 255]],
  ])("stand out from %s", (_, background) => {
    expect(contrast(addedColour, background)).toBeGreaterThan(3);
    expect(contrast(removedColour, background)).toBeGreaterThan(3);
  });

  test("the lines over what was removed are seen on it", () => {
    expect(lightness(removedColour) - lightness(removedLine)).toBeGreaterThan(20);
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
  ])("are two colours to eyes with %s, and neither is the piece's", (_, m) => {
    const seen = (colour: Colour): Colour => {
      const [r, g, b] = linear(colour);
      const shown = (row: number) => {
        const light = Math.min(1, Math.max(0, m[row] * r + m[row + 1] * g + m[row + 2] * b));
        return light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
      };
      return [shown(0), shown(3), shown(6)];
    };
    const apart = (a: Colour, b: Colour) => Math.hypot(...a.map((value, i) => value - b[i]));
    const piece = seen(themeOf(() => "", { isDark: true, isHighContrast: false }).piece);
    const [added, removed] = [seen(addedColour), seen(removedColour)];
    expect(apart(added, removed)).toBeGreaterThan(0.3);
    expect(apart(added, piece)).toBeGreaterThan(0.3);
    expect(apart(removed, piece)).toBeGreaterThan(0.15);
  });

  test("are written as CSS writes colours", () => {
    expect(cssOf([1, 0.5, 0])).toBe("rgb(255, 128, 0)");
  });
});

describe("between the two pieces", () => {
  test("at the ends one is seen alone, in the middle all that differs", () => {
    expect(comparisonManner(0)).toEqual({ isOldMatter: true, differences: 0, ghost: 0 });
    expect(comparisonManner(1)).toEqual({ isOldMatter: false, differences: 0, ghost: 0 });
    expect(comparisonManner(0.5)).toEqual({ isOldMatter: false, differences: 1, ghost: 1 });
  });

  test("what differs fades evenly to both ends, and nothing jumps where the matter becomes the other", () => {
    for (let share = 0; share <= 0.5; share += 0.05) {
      const [one, other] = [comparisonManner(share), comparisonManner(1 - share)];
      expect(one.differences).toBeCloseTo(2 * share, 9);
      expect(other.differences).toBeCloseTo(one.differences, 9);
    }
    const step = 1e-6;
    expect(comparisonManner(0.5 - step).differences).toBeCloseTo(comparisonManner(0.5).differences, 4);
  });

  test("beyond the ends is as at them", () => {
    expect(comparisonManner(-3)).toEqual(comparisonManner(0));
    expect(comparisonManner(7)).toEqual(comparisonManner(1));
  });
});
