/** Red, green, blue, 0 to 1, as they stand on the screen (sRGB). */
export type Colour = readonly [number, number, number];

/** Reads `#rgb`, `#rrggbb`, either with opacity, and `rgb()` or `rgba()`; undefined for anything else. */
export function parseColour(text: string): Colour | undefined {
  const trimmed = text.trim();
  const hex = /^#([0-9a-f]{3,4}|[0-9a-f]{6}|[0-9a-f]{8})$/i.exec(trimmed)?.[1];
  if (hex) {
    const wide = hex.length > 4 ? 2 : 1;
    const value = (i: number) =>
      Number.parseInt(hex.slice(i * wide, (i + 1) * wide).repeat(3 - wide), 16) / 255;
    return [value(0), value(1), value(2)];
  }
  const numbers = /^rgba?\(([^)]*)\)$/i
    .exec(trimmed)?.[1]
    .split(/[\s,/]+/)
    .filter(Boolean);
  if (!numbers || numbers.length < 3) return undefined;
  const values = numbers
    .slice(0, 3)
    .map((number) =>
      number.endsWith("%") ? Number.parseFloat(number) / 100 : Number.parseFloat(number) / 255,
    );
  if (!values.every(Number.isFinite)) return undefined;
  return [values[0], values[1], values[2]];
}

/** From `a` (share 0) to `b` (share 1). */
export const mixed = (a: Colour, b: Colour, share: number): Colour => [
  a[0] + share * (b[0] - a[0]),
  a[1] + share * (b[1] - a[1]),
  a[2] + share * (b[2] - a[2]),
];

/** As light adds up, 0 to 1 (IEC 61966-2-1). */
export const linear = (colour: Colour): [number, number, number] => {
  const one = (value: number) => (value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
  return [one(colour[0]), one(colour[1]), one(colour[2])];
};

/** Relative luminance, 0 to 1 (WCAG 2.2). */
export function luminance(colour: Colour): number {
  const [r, g, b] = linear(colour);
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}

/** Contrast of two colours, 1 to 21 (WCAG 2.2). */
export function contrast(a: Colour, b: Colour): number {
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

/** The colour as CSS writes it. */
export const cssColour = (colour: Colour): string =>
  `rgb(${colour.map((value) => Math.round(255 * value)).join(", ")})`;
