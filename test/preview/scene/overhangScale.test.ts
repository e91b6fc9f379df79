import { describe, expect, test } from "vitest";
import {
  bandBytes,
  bandColour,
  bandEdges,
  bandOf,
  bandSines,
  firstStriped,
  leanOf,
  overhangBands,
} from "../../../src/preview/overhangScale";
import { legendWords } from "../../../src/preview/panel/overhangLegend";
import { type Colour, linear, luminance } from "../../../src/preview/scene/colour";
import { themeOf } from "../../../src/preview/scene/theme";

/** CIE 1976 lightness from relative luminance (ISO/CIE 11664-4). */
const lightness = (colour: Colour): number => {
  const y = luminance(colour);
  return y > (6 / 29) ** 3 ? 116 * Math.cbrt(y) - 16 : y * (29 / 3) ** 3;
};

const bands = Array.from({ length: overhangBands }, (_, band) => band);

describe("how far a surface leans out", () => {
  const up = [0, 0, 1];

  // Worked by hand: a tube whose axis lies level, radius 1; its surface at an angle from its lowest line.
  test.each([
    ["the lowest line of a level tube", [0, 0, -1], 90],
    ["30° up from it", [0.5, 0, -Math.sqrt(3) / 2], 60],
    ["45° up from it", [Math.SQRT1_2, 0, -Math.SQRT1_2], 45],
    ["its side", [1, 0, 0], 0],
    ["its upper line", [0, 0, 1], -90],
    // A cone of half angle 30°, tip down: its wall leans out by 30° from the vertical.
    ["the wall of a cone on its tip", [Math.sqrt(3) / 2, 0, -0.5], 30],
  ])("%s", (_, normal, lean) => {
    expect(leanOf(normal, up)).toBeCloseTo(lean, 9);
  });

  test("is told from the printer's up, not from the wearer's", () => {
    // Lying on its back: what looked to the back of the head is the ceiling.
    expect(leanOf([0, -1, 0], [0, 1, 0])).toBeCloseTo(90, 9);
    expect(leanOf([0, 0, -1], [0, 1, 0])).toBeCloseTo(0, 9);
  });

  test("a normal that is a little too long is still a ceiling", () => {
    expect(leanOf([0, 0, -1.0000001], up)).toBe(90);
  });
});

describe("bands", () => {
  test("of 9° each over 45°; the limit itself is not held up", () => {
    expect(bandEdges(45)).toEqual([45, 54, 63, 72, 81, 90]);
    expect([0, 44.9, 45].map((lean) => bandOf(lean, 45))).toEqual([-1, -1, -1]);
    expect([45.01, 53.9, 54, 63, 72, 81, 90].map((lean) => bandOf(lean, 45))).toEqual([0, 0, 1, 2, 3, 4, 4]);
  });

  test("at the ends of the limit", () => {
    expect(bandEdges(90)).toEqual([]);
    expect(bandOf(90, 90)).toBe(-1);
    expect(bandOf(0.1, 0)).toBe(0);
    expect(bandOf(Number.NaN, 45)).toBe(-1);
  });

  test("as the shader tells them, by sines, are those of the angles", () => {
    for (const limit of [0, 30, 45, 60, 89]) {
      const sines = bandSines(limit);
      expect(sines).toHaveLength(overhangBands);
      for (let lean = -90; lean <= 90; lean += 0.37) {
        const sine = Math.sin((lean * Math.PI) / 180);
        const passed = sines.filter((begin) => sine > begin).length - 1;
        expect(passed).toBe(bandOf(lean, limit));
      }
    }
    // sin 45°, sin 54°, sin 63°, sin 72°, sin 81°; nothing passes where nothing is held up.
    const wanted = [Math.SQRT1_2, 0.809, 0.891, 0.9511, 0.9877];
    for (const [i, sine] of bandSines(45).entries()) expect(sine).toBeCloseTo(wanted[i], 4);
    expect(bandSines(90).every((begin) => begin > 1)).toBe(true);
  });

  test("have a colour each, and no more", () => {
    expect(() => bandColour(overhangBands)).toThrow(RangeError);
    expect(() => bandColour(-1)).toThrow(RangeError);
    expect([...bandBytes()]).toEqual(
      bands.flatMap((band) => [...bandColour(band).map((value) => Math.round(255 * value)), 255]),
    );
  });

  test("each is darker than the one before by the same lightness", () => {
    for (const band of bands.slice(1)) {
      const step = lightness(bandColour(band - 1)) - lightness(bandColour(band));
      expect(step).toBeGreaterThan(10);
      expect(step).toBeLessThan(14);
    }
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
  ])("keep their order to eyes with %s", (_, m) => {
    const found = bands.map((band) => {
      const [r, g, b] = linear(bandColour(band));
      const shown = (row: number) => {
        const light = Math.min(1, Math.max(0, m[row] * r + m[row + 1] * g + m[row + 2] * b));
        return light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
      };
      return lightness([shown(0), shown(3), shown(6)]);
    });
    for (let i = 1; i < found.length; i++) expect(found[i - 1] - found[i]).toBeGreaterThan(7);
  });

  test.each([true, false])("none looks like what is not held up (dark: %s)", (isDark) => {
    const { noValue } = themeOf(() => "", { isDark, isHighContrast: false });
    const chroma = ([r, g, b]: Colour) => Math.max(r, g, b) - Math.min(r, g, b);
    for (const band of bands) {
      const colour = bandColour(band);
      const isApart = chroma(colour) - chroma(noValue) > 0.2 || lightness(noValue) - lightness(colour) > 20;
      expect(isApart).toBe(true);
    }
  });

  test("the flattest are striped too", () => {
    expect(firstStriped).toBeGreaterThan(0);
    expect(firstStriped).toBeLessThan(overhangBands);
  });
});

test("the legend in words names the limit and the steps", () => {
  expect(legendWords(45)).toContain("more than 45 degrees");
  expect(legendWords(45)).toContain("54, 63, 72, 81 degrees");
  expect(legendWords(90)).toBe("No surface leans out so far that it is held up.");
});
