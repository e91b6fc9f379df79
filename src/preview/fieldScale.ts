/**
 * The colours of a field of gaps, and its numbers. Lightness grows evenly with the value, so that the order is seen
 * without seeing hues; what lies below nought is set apart by a step in lightness, another hue and stripes.
 */

/** Red, green, blue, 0 to 1, as they stand on the screen (sRGB). */
type ScreenColour = readonly [red: number, green: number, blue: number];

/** Values beyond these have the colours of the ends, mm. */
export const fieldRange = { least: -3, most: 10 } as const;

/** Where the legend says a number, mm. */
export const fieldTicks = [0, 2, 4, 6, 8, 10] as const;

/** Colours that the scale is drawn with: nought lies between two of them. */
export const scaleSteps = 40 * (fieldRange.most - fieldRange.least);

/** In a message: there is no value here. */
export const noValue = -32768;

/** Lightness, chroma and hue (degrees) of CIELAB at a place of the scale. */
interface Stop {
  /** mm */
  readonly at: number;
  readonly lightness: number;
  readonly chroma: number;
  readonly hue: number;
}

/** Dark violet. */
const entering: readonly [Stop, Stop] = [
  { at: fieldRange.least, lightness: 15, chroma: 38, hue: 318 },
  { at: 0, lightness: 29, chroma: 56, hue: 316 },
];

/** Blue, blue-green, green, pale yellow: 5.5 of lightness a mm. */
const apart: readonly Stop[] = [
  { at: 0, lightness: 38, chroma: 42, hue: 277 },
  { at: 1.5, lightness: 46.25, chroma: 32, hue: 251 },
  { at: 3, lightness: 54.5, chroma: 28, hue: 222 },
  { at: 5, lightness: 65.5, chroma: 33, hue: 178 },
  { at: 7.5, lightness: 79.25, chroma: 44, hue: 140 },
  { at: fieldRange.most, lightness: 93, chroma: 46, hue: 103 },
];

/** The colour of a gap, mm: nought touches, below it enters. */
export function fieldColour(value: number): ScreenColour {
  const held = Math.min(fieldRange.most, Math.max(fieldRange.least, value));
  const stops = held < 0 ? entering : apart;
  const next = Math.max(
    1,
    stops.findIndex(({ at }) => at >= held),
  );
  const [from, to] = [stops[next - 1], stops[next]];
  const share = (held - from.at) / (to.at - from.at);
  const between = (key: "lightness" | "chroma" | "hue") => from[key] + share * (to[key] - from[key]);
  return screenColour(between("lightness"), between("chroma"), between("hue"));
}

/** The scale from its least to its greatest value: red, green, blue and 255 of each step, 0 to 255. */
export function scaleBytes(): Uint8Array {
  const bytes = new Uint8Array(4 * scaleSteps);
  const step = (fieldRange.most - fieldRange.least) / scaleSteps;
  for (let i = 0; i < scaleSteps; i++) {
    const colour = fieldColour(fieldRange.least + (i + 0.5) * step);
    bytes.set([...colour.map((value) => Math.round(255 * value)), 255], 4 * i);
  }
  return bytes;
}

/** Least, median and greatest of the points of a field, mm. */
export interface FieldSummary {
  readonly least: number;
  readonly median: number;
  readonly most: number;
}

/** What a field holds; undefined where no point has a value. `values`: hundredths of a mm, `noValue` for none. */
export function fieldSummary(values: Int16Array): FieldSummary | undefined {
  const sorted = values.slice().sort();
  // What has no value stands first.
  let from = 0;
  while (from < sorted.length && sorted[from] === noValue) from++;
  const count = sorted.length - from;
  if (count === 0) return undefined;
  const at = (place: number) => sorted[from + place] / 100;
  return { least: at(0), median: at(Math.floor((count - 1) / 2)), most: at(count - 1) };
}

/** CIELAB (ISO/CIE 11664-4) under D65 to sRGB (IEC 61966-2-1); what the screen has not is cut off. */
export function screenColour(lightness: number, chroma: number, hue: number): ScreenColour {
  const turn = (hue * Math.PI) / 180;
  const middle = (lightness + 16) / 116;
  const unbent = (f: number) => (f > 6 / 29 ? f ** 3 : 3 * (6 / 29) ** 2 * (f - 4 / 29));
  const x = 0.95047 * unbent(middle + (chroma * Math.cos(turn)) / 500);
  const y = unbent(middle);
  const z = 1.08883 * unbent(middle - (chroma * Math.sin(turn)) / 200);
  const shown = (light: number) => {
    const held = Math.min(1, Math.max(0, light));
    return held <= 0.0031308 ? 12.92 * held : 1.055 * held ** (1 / 2.4) - 0.055;
  };
  return [
    shown(3.2404542 * x - 1.5371385 * y - 0.4985314 * z),
    shown(-0.969266 * x + 1.8760108 * y + 0.041556 * z),
    shown(0.0556434 * x - 0.2040259 * y + 1.0572252 * z),
  ];
}
