import { describe, expect, test } from "vitest";
import { contrast, luminance, parseColour } from "../../../src/preview/scene/colour";
import { themeOf } from "../../../src/preview/scene/theme";

describe("colours", () => {
  test.each([
    ["#fff", [1, 1, 1]],
    ["#1e1e1e", [30 / 255, 30 / 255, 30 / 255]],
    [" #D18616ff ", [209 / 255, 134 / 255, 22 / 255]],
    ["rgb(255, 0, 51)", [1, 0, 0.2]],
    ["rgba(0 128 255 / 50%)", [0, 128 / 255, 1]],
  ])("%s", (text, colour) => {
    const read = parseColour(text);
    colour.forEach((value, i) => {
      expect(read?.[i]).toBeCloseTo(value, 9);
    });
  });

  test.each(["", "red", "#12345", "rgb(1, 2)", "var(--x)"])("%j is none", (text) => {
    expect(parseColour(text)).toBeUndefined();
  });

  test("contrast as WCAG 2.2 defines it: black on white 21, #767676 on white just above 4.5", () => {
    expect(contrast([0, 0, 0], [1, 1, 1])).toBeCloseTo(21, 9);
    // W3C, Understanding success criterion 1.4.3: #767676 has 4.54 to 1 on white.
    expect(contrast(parseColour("#767676") ?? [0, 0, 0], [1, 1, 1])).toBeCloseTo(4.54, 2);
    expect(luminance([1, 1, 1])).toBeCloseTo(1, 9);
  });
});

describe("theme", () => {
  const none = () => "";

  test.each([true, false])("without a single variable everything can be told apart (dark: %s)", (isDark) => {
    const theme = themeOf(none, { isDark, isHighContrast: false });
    expect(theme.isDark).toBe(isDark);
    for (const name of ["piece", "head"] as const) {
      expect(contrast(theme[name], theme.background)).toBeGreaterThan(1.5);
    }
    expect(contrast(theme.piece, theme.head)).toBeGreaterThan(1.2);
    expect(contrast(theme.plateEdge, theme.background)).toBeGreaterThan(3);
  });

  test.each([
    ["#000000", "#ffffff", true],
    ["#ffffff", "#292929", false],
  ])("in high contrast on %s lines stand out", (background, foreground, isDark) => {
    const values: Record<string, string> = {
      "--vscode-editor-background": background,
      "--vscode-foreground": foreground,
      // A border that cannot be seen is not used.
      "--vscode-contrastBorder": background,
    };
    const theme = themeOf((name) => values[name] ?? "", { isDark, isHighContrast: true });
    expect(contrast(theme.outline, theme.background)).toBeGreaterThanOrEqual(4.5);
    expect(contrast(theme.piece, theme.background)).toBeGreaterThan(1.5);
  });

  test("the background's own lightness counts more than the kind the theme calls itself", () => {
    const theme = themeOf((name) => (name === "--vscode-editor-background" ? "#fdf6e3" : ""), {
      isDark: true,
      isHighContrast: false,
    });
    expect(theme.isDark).toBe(false);
  });
});
