import { screenColour } from "./fieldScale";

/**
 * The colours of surfaces that lean out: in bands, each darker than the one before by the same lightness, from ochre to
 * deep violet, the flattest striped too. So the order is seen without seeing hues.
 */

/** Red, green, blue, 0 to 1, as they stand on the screen (sRGB). */
type ScreenColour = readonly [red: number, green: number, blue: number];

/** Lightness, chroma and hue (degrees) of CIELAB, from the least lean that is held up to a level ceiling. */
const bands: readonly (readonly [lightness: number, chroma: number, hue: number])[] = [
  [70, 58, 80],
  [58, 50, 66],
  [46, 38, 36],
  [34, 38, 344],
  [22, 44, 318],
];

export const overhangBands = bands.length;

/** Bands from this one on are striped. */
export const firstStriped = 3;

/**
 * How far a surface leans out from the vertical, degrees: 0 for a wall, 90 for a level ceiling, below 0 for what looks
 * up. `normal`: outward, `up`: the printer's; both unit vectors.
 */
export function leanOf(normal: readonly number[], up: readonly number[]): number {
  const sine = -(normal[0] * up[0] + normal[1] * up[1] + normal[2] * up[2]);
  return (Math.asin(Math.max(-1, Math.min(1, sine))) * 180) / Math.PI;
}

/** The band of a lean, 0 for the least; −1 where it needs no support. `limit`: what leans farther is held up, degrees. */
export function bandOf(lean: number, limit: number): number {
  if (!(lean > limit)) return -1;
  return Math.min(overhangBands - 1, Math.floor((overhangBands * (lean - limit)) / (90 - limit)));
}

/** Where the bands begin and the last one ends, degrees; none where nothing can lean farther than the limit. */
export function bandEdges(limit: number): readonly number[] {
  if (limit >= 90) return [];
  return Array.from({ length: overhangBands + 1 }, (_, i) => limit + (i * (90 - limit)) / overhangBands);
}

/** Sines of the leans at which the bands begin: what the shader holds a normal against. Above 1 where nothing is held up. */
export function bandSines(limit: number): readonly number[] {
  const edges = bandEdges(limit);
  return bands.map((_, band) => (edges.length === 0 ? 2 : Math.sin((edges[band] * Math.PI) / 180)));
}

/** The colour of a band. Throws a RangeError where there is none of that number. */
export function bandColour(band: number): ScreenColour {
  const found = bands[band];
  if (!found) throw new RangeError(`there are bands 0 to ${overhangBands - 1}, not ${band}`);
  return screenColour(...found);
}

/** Red, green, blue and 255 of each band, 0 to 255. */
export const bandBytes = (): Uint8Array =>
  Uint8Array.from(
    bands.flatMap((_, band) => [...bandColour(band).map((value) => Math.round(255 * value)), 255]),
  );
