import type { Loop } from "./slices";

/**
 * The slope of the lines: the golden section, so that no straight side of a design runs along them and errors of the
 * ends average out.
 */
const slope = (Math.sqrt(5) - 1) / 2;
const cosine = 1 / Math.hypot(1, slope);
const sine = slope / Math.hypot(1, slope);

/** Crossings are told apart from this far, mm; of loops that reach farther than a metre, from a little more. */
const finestGrain = 1e-5;
/** Places along a line, in grains, stay below this: with set and direction they fit 31 bits. */
const mostGrains = 2 ** 27 - 1;

/** How many kinds of loops can be scanned at once. */
const mostSets = 8;

/**
 * Scans sets of loops along parallel lines a `spacing` (mm) apart. `visit` is called for each run of a line between two
 * crossings (and for what lies before the next line with length 0 and nothing wound around) with its length and how
 * often each set winds around it. A sum of length × spacing over runs is an area (Cavalieri's principle); a number of
 * crossings × spacing × π/2 is a length of outline (Crofton's formula).
 * @param phase moves all lines by this share of the spacing: over slices of like shape, errors of the ends average out
 */
export function scanLines(
  sets: readonly (readonly Loop[])[],
  spacing: number,
  visit: (length: number, windings: Int32Array) => void,
  phase = 0,
): void {
  if (!(spacing > 0 && spacing < Infinity)) {
    throw new RangeError(`The lines are ${spacing} mm apart: use more than zero.`);
  }
  if (sets.length > mostSets) throw new RangeError(`There are ${sets.length} sets: at most ${mostSets} do.`);
  const { least, most, leastAlong, mostAlong } = projectPoints(sets, spacing);
  if (!(most >= least)) return;
  const origin = Math.floor(least) - 0.5 - (phase - Math.floor(phase));
  const lines = Math.ceil(most - origin) + 1;
  if (lineStarts.length < lines + 1) lineStarts = new Uint32Array(2 * lines + 2);
  lineStarts.fill(0, 0, lines + 1);
  const grain = Math.max(finestGrain, (mostAlong - leastAlong) / mostGrains);
  const count = findCrossings(sets, origin, leastAlong, grain);
  for (let k = 1; k <= lines; k++) lineStarts[k] += lineStarts[k - 1];
  if (sorted.length < count) sorted = new Int32Array(2 * count);
  // Filled from the back, so that each start ends up at its line's first.
  for (let c = 0; c < count; c++) sorted[--lineStarts[crossingLine[c]]] = crossings[c];
  lineStarts[lines] = count;
  windings.fill(0);
  for (let k = 0; k < lines; k++) {
    const start = lineStarts[k];
    const end = lineStarts[k + 1];
    if (start === end) continue;
    sortRun(start, end);
    let before = 0;
    for (let c = start; c < end; c++) {
      const key = sorted[c];
      const place = key >> 4;
      const code = key & 15;
      if (c > start) visit((place - before) * grain, windings);
      before = place;
      windings[code >> 1] += code & 1 ? 1 : -1;
    }
    visit(0, windings);
  }
}

// Kept from call to call: thousands of slices of like size are scanned one after another.
const windings = new Int32Array(mostSets);
// Of each point, across and along the lines in turn: across in spacings, along in mm.
let projected = new Float64Array(8192);
let lineStarts = new Uint32Array(1024);
let crossings = new Int32Array(8192);
let crossingLine = new Uint32Array(8192);
let sorted = new Int32Array(8192);

/** Notes where all points lie across and along the lines, and how far they reach. */
function projectPoints(
  sets: readonly (readonly Loop[])[],
  spacing: number,
): { least: number; most: number; leastAlong: number; mostAlong: number } {
  let coordinates = 0;
  for (const loops of sets) for (const loop of loops) coordinates += loop.length;
  if (projected.length < coordinates) projected = new Float64Array(2 * coordinates);
  let least = Infinity;
  let most = -Infinity;
  let leastAlong = Infinity;
  let mostAlong = -Infinity;
  let at = 0;
  for (const loops of sets) {
    for (const loop of loops) {
      for (let i = 0; i < loop.length; i += 2) {
        const x = loop[i];
        const y = loop[i + 1];
        const across = (cosine * y - sine * x) / spacing;
        const along = cosine * x + sine * y;
        if (across < least) least = across;
        if (across > most) most = across;
        if (along < leastAlong) leastAlong = along;
        if (along > mostAlong) mostAlong = along;
        projected[at++] = across;
        projected[at++] = along;
      }
    }
  }
  return { least, most, leastAlong, mostAlong };
}

/** Notes all crossings with lines, each a number that sorts by its place (in grains) and holds set and direction. */
function findCrossings(
  sets: readonly (readonly Loop[])[],
  origin: number,
  leastAlong: number,
  grain: number,
): number {
  let count = 0;
  let at = 0;
  for (let set = 0; set < sets.length; set++) {
    for (const { length } of sets[set]) {
      let across = projected[at + length - 2] - origin;
      let along = projected[at + length - 1] - leastAlong;
      for (const end = at + length; at < end; at += 2) {
        const nextAcross = projected[at] - origin;
        const nextAlong = projected[at + 1] - leastAlong;
        const isUp = nextAcross > across;
        // Lines at whole numbers, those at the lower end counted, at the upper not.
        const from = Math.ceil(isUp ? across : nextAcross);
        const to = Math.ceil(isUp ? nextAcross : across);
        if (from < to) {
          const step = (nextAlong - along) / (nextAcross - across);
          // The solid lies to the left: going up the lines, it lies before the crossing.
          const code = 2 * set + (isUp ? 0 : 1);
          if (count + to - from > crossings.length) grow(count + to - from);
          for (let line = from; line < to; line++) {
            const place = Math.max(0, along + (line - across) * step);
            crossings[count] = (Math.floor(place / grain + 0.5) << 4) | code;
            crossingLine[count++] = line;
            lineStarts[line]++;
          }
        }
        across = nextAcross;
        along = nextAlong;
      }
    }
  }
  return count;
}

function grow(least: number): void {
  const larger = new Int32Array(2 * least);
  larger.set(crossings);
  crossings = larger;
  const largerLines = new Uint32Array(2 * least);
  largerLines.set(crossingLine);
  crossingLine = largerLines;
}

function sortRun(start: number, end: number): void {
  if (end - start > 96) {
    sorted.subarray(start, end).sort();
    return;
  }
  for (let i = start + 1; i < end; i++) {
    const key = sorted[i];
    let j = i - 1;
    while (j >= start && sorted[j] > key) {
      sorted[j + 1] = sorted[j];
      j--;
    }
    sorted[j + 1] = key;
  }
}
