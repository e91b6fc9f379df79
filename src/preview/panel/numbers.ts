/** A number as people read it: at most `digits` decimals, no trailing zeros, a true minus sign. */
export function plainNumber(value: number, digits = 1): string {
  const scale = 10 ** digits;
  const rounded = Math.round(value * scale) / scale;
  return String(Object.is(rounded, -0) ? 0 : rounded).replace("-", "−");
}

/** A length in mm: tenths below 20 mm, whole millimetres from there on. */
export const lengthText = (millimetres: number): string =>
  `${plainNumber(millimetres, Math.abs(millimetres) < 20 ? 1 : 0)} mm`;

/** Least and greatest radius, mm: one number where they are the same to a tenth. */
export function radiusText([least, most]: readonly [number, number]): string {
  const [from, to] = [plainNumber(least), plainNumber(most)];
  return from === to ? `${from} mm` : `${from} to ${to} mm`;
}

/** A mass in g: tenths below 20 g, whole grams from there on. */
export const massText = (grams: number): string => `${plainNumber(grams, grams < 20 ? 1 : 0)} g`;

/** How many of something: "1 warning", "3 warnings". */
export const counted = (count: number, one: string, many = `${one}s`): string =>
  `${count} ${count === 1 ? one : many}`;
