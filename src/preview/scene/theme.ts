import { type Colour, contrast, luminance, mixed, parseColour } from "./colour";

/** The colours of the picture, from the editor's theme. */
export interface Theme {
  readonly isHighContrast: boolean;
  readonly isDark: boolean;
  readonly background: Colour;
  readonly foreground: Colour;
  readonly piece: Colour;
  /** What the head left. */
  readonly inner: Colour;
  readonly head: Colour;
  /** A surface without a value among those that have one. */
  readonly noValue: Colour;
  /** The arrow of the way on. */
  readonly way: Colour;
  /** A part that is pointed at. */
  readonly lit: Colour;
  readonly outline: Colour;
  readonly grid: Colour;
  readonly plateEdge: Colour;
  readonly misfit: Colour;
  /** What holds the piece up and is thrown away. */
  readonly ghost: Colour;
  /** Struts and feet that are printed with the piece. */
  readonly props: Colour;
}

/** How a theme's variables are read: the text of a CSS variable, empty where there is none. */
export type ReadVariable = (name: string) => string;

/** Kinds of theme, as the editor marks its body. */
export interface ThemeKind {
  readonly isHighContrast: boolean;
  readonly isDark: boolean;
}

/** Material of the piece, before the theme tints it: unfired clay, which is no theme's colour of warning. */
const clay: Colour = [0.89, 0.72, 0.6];

/** The theme of the page. `element`: inside the page, where the variables hold. */
export function readTheme(element: HTMLElement): Theme {
  const style = getComputedStyle(element);
  const classes = element.ownerDocument.body.classList;
  const isLight = classes.contains("vscode-light") || classes.contains("vscode-high-contrast-light");
  return themeOf((name) => style.getPropertyValue(name), {
    isHighContrast:
      classes.contains("vscode-high-contrast") || classes.contains("vscode-high-contrast-light"),
    isDark: !isLight,
  });
}

/** Colours of the picture from the theme's variables; whatever is missing gets a usual one. */
export function themeOf(read: ReadVariable, kind: ThemeKind): Theme {
  const colour = (fallback: Colour, ...names: string[]): Colour => {
    for (const name of names) {
      const found = parseColour(read(name));
      if (found) return found;
    }
    return fallback;
  };
  const background = colour(kind.isDark ? [0.12, 0.12, 0.12] : [1, 1, 1], "--vscode-editor-background");
  const isDark = luminance(background) < 0.18;
  const foreground = colour(isDark ? [0.8, 0.8, 0.8] : [0.2, 0.2, 0.2], "--vscode-foreground");
  const lit = colour(
    isDark ? [0.22, 0.58, 1] : [0.1, 0.42, 0.85],
    ...(kind.isHighContrast ? ["--vscode-focusBorder"] : ["--vscode-charts-blue", "--vscode-focusBorder"]),
  );
  const misfit = colour(isDark ? [0.95, 0.3, 0.3] : [0.8, 0.1, 0.1], "--vscode-editorError-foreground");
  const accent = colour([0.82, 0.53, 0.09], "--vscode-charts-orange");
  const shared = { isDark, background, foreground, lit, misfit, isHighContrast: kind.isHighContrast };
  if (kind.isHighContrast) {
    const outline = colour(foreground, "--vscode-contrastBorder");
    return {
      ...shared,
      piece: mixed(background, foreground, isDark ? 0.62 : 0.3),
      inner: mixed(background, foreground, isDark ? 0.36 : 0.5),
      noValue: mixed(background, foreground, 0.45),
      way: foreground,
      head: mixed(background, foreground, isDark ? 0.26 : 0.08),
      outline: contrast(outline, background) >= 4.5 ? outline : foreground,
      grid: mixed(background, foreground, 0.4),
      plateEdge: foreground,
      ghost: foreground,
      props: mixed(background, foreground, isDark ? 0.85 : 0.62),
    };
  }
  return {
    ...shared,
    piece: mixed(clay, accent, 0.22),
    noValue: isDark ? [0.68, 0.62, 0.57] : [0.8, 0.765, 0.73],
    way: lit,
    inner: mixed(mixed(clay, accent, 0.22), isDark ? [0.3, 0.29, 0.3] : [0.42, 0.4, 0.4], 0.5),
    head: isDark ? mixed(background, [0.8, 0.82, 0.85], 0.55) : mixed(background, [0.42, 0.45, 0.5], 0.38),
    outline: lit,
    grid: mixed(background, foreground, isDark ? 0.2 : 0.16),
    plateEdge: mixed(background, foreground, 0.55),
    ghost: isDark ? [0.78, 0.81, 0.83] : [0.36, 0.39, 0.42],
    props: isDark ? [0.43, 0.56, 0.58] : [0.36, 0.5, 0.53],
  };
}
