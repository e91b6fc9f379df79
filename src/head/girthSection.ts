import { SECTION } from "./craniumShape";

/**
 * The level section at the girth. Between the box of length and breadth and the girth there is one freedom, how
 * square the section is. Sections here are convex curves given by their points of equal normal direction in the
 * unit box. A weighted mean of such points is the Minkowski sum of the scaled curves: convex again, touching the
 * same box, and with a perimeter that is the weighted mean of theirs (Schneider 2013, *Convex Bodies: The
 * Brunn-Minkowski Theory*, for the linearity of the perimeter). So the girth comes out exactly, with no search.
 */

/** Directions of the outward normal from front (0) to back (π), both included. */
const DIRECTIONS = 721;
/** Points of the curve that the normals are read from. */
const DENSE = 4001;

/** One half (x ≥ 0) of a symmetric section in the unit box, by normal direction. */
interface UnitSection {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Radius of the mean section in the unit box; its box is only about ±1 until it is scaled to fit. */
export const meanSectionRadius = (azimuth: number): number => {
  let r = 0;
  for (let m = 0; m < SECTION.length; m++) r += SECTION[m] * Math.cos(m * azimuth);
  return r;
};

/** The dense mean section scaled to touch the unit box at x = 1, y = ±1 exactly. */
const denseMean = (): UnitSection => {
  const x = new Float64Array(DENSE);
  const y = new Float64Array(DENSE);
  let widest = 0;
  for (let i = 0; i < DENSE; i++) {
    const a = (Math.PI * i) / (DENSE - 1);
    const r = meanSectionRadius(a);
    x[i] = r * Math.sin(a);
    y[i] = r * Math.cos(a);
    widest = Math.max(widest, x[i]);
  }
  const half = (y[0] - y[DENSE - 1]) / 2;
  for (let i = 0; i < DENSE; i++) {
    x[i] /= widest;
    y[i] /= half;
  }
  return { x, y };
};

/** A curve as square (power < 1) or as lean (power > 1) as wanted: each quarter's coordinates raised to a power. */
const squared = (mean: UnitSection, power: number): UnitSection => {
  let widest = 0;
  for (let i = 0; i < DENSE; i++) if (mean.x[i] > mean.x[widest]) widest = i;
  const yWidest = mean.y[widest];
  const front = mean.y[0] - yWidest;
  const back = yWidest - mean.y[DENSE - 1];
  const x = mean.x.map((v) => Math.max(0, v) ** power);
  const y = mean.y.map((v) =>
    v >= yWidest
      ? yWidest + front * ((v - yWidest) / front) ** power
      : yWidest - back * ((yWidest - v) / back) ** power,
  );
  return { x, y };
};

/** Reads a dense convex half curve at even normal directions. */
const byNormal = (curve: UnitSection): UnitSection => {
  const x = new Float64Array(DIRECTIONS);
  const y = new Float64Array(DIRECTIONS);
  // The normal of the edge i..i+1, as an angle from the front.
  const normalOf = (i: number): number =>
    Math.atan2(-(curve.y[i + 1] - curve.y[i]), curve.x[i + 1] - curve.x[i]);
  let edge = 0;
  let before = 0;
  let after = normalOf(0);
  for (let k = 0; k < DIRECTIONS; k++) {
    const angle = (Math.PI * k) / (DIRECTIONS - 1);
    while (edge < DENSE - 2 && after < angle) {
      before = after;
      edge++;
      after = normalOf(edge);
    }
    // Between the middles of two edges the normal turns evenly.
    const t = after > before ? Math.min(1, Math.max(0, (angle - before) / (after - before))) : 0;
    const at = Math.min(DENSE - 1, Math.max(0, edge - 0.5 + t));
    const i = Math.min(DENSE - 2, Math.floor(at));
    const f = at - i;
    x[k] = curve.x[i] + f * (curve.x[i + 1] - curve.x[i]);
    y[k] = curve.y[i] + f * (curve.y[i + 1] - curve.y[i]);
  }
  x[0] = 0;
  x[DIRECTIONS - 1] = 0;
  y[0] = curve.y[0];
  y[DIRECTIONS - 1] = curve.y[DENSE - 1];
  return { x, y };
};

/** From leanest to squarest; the mean is among them. */
const POWERS = [1.9, 1, 0.6, 0.2];
let family: readonly UnitSection[] | undefined;

const sections = (): readonly UnitSection[] => {
  if (!family) {
    const mean = denseMean();
    family = POWERS.map((power) => byNormal(power === 1 ? mean : squared(mean, power)));
  }
  return family;
};

const perimeter = (section: UnitSection, length: number, breadth: number): number => {
  let sum = 0;
  for (let i = 1; i < DIRECTIONS; i++) {
    const dx = ((section.x[i] - section.x[i - 1]) * breadth) / 2;
    const dy = ((section.y[i] - section.y[i - 1]) * length) / 2;
    sum += Math.sqrt(dx * dx + dy * dy);
  }
  return 2 * sum;
};

/** The least and the greatest girth that {@link girthSection} can give for a length and a breadth, mm. */
export const girthRange = (length: number, breadth: number): readonly [number, number] => {
  const all = sections();
  return [perimeter(all[0], length, breadth), perimeter(all[all.length - 1], length, breadth)];
};

/** Girth of the mean section at a length and a breadth, mm: what the two foretell of the girth by shape alone. */
export const meanGirth = (length: number, breadth: number): number =>
  perimeter(sections()[POWERS.indexOf(1)], length, breadth);

/**
 * Radius of the section with this girth, length and breadth, in the unit box, at even azimuths (of the unit box)
 * 0..π. Throws a RangeError outside {@link girthRange}.
 */
export const girthSection = (
  girth: number,
  length: number,
  breadth: number,
  columns: number,
): Float64Array => {
  const all = sections();
  const perimeters = all.map((section) => perimeter(section, length, breadth));
  if (!(girth >= perimeters[0] && girth <= perimeters[perimeters.length - 1])) {
    throw new RangeError(`No section ${length} mm by ${breadth} mm has a girth of ${girth} mm.`);
  }
  let k = 0;
  while (k < all.length - 2 && girth > perimeters[k + 1]) k++;
  const share = (girth - perimeters[k]) / (perimeters[k + 1] - perimeters[k]);
  return polar(all[k], all[k + 1], share, columns);
};

const polar = (a: UnitSection, b: UnitSection, share: number, columns: number): Float64Array => {
  const out = new Float64Array(columns);
  const xAt = (i: number): number => a.x[i] + share * (b.x[i] - a.x[i]);
  const yAt = (i: number): number => a.y[i] + share * (b.y[i] - a.y[i]);
  let i = 0;
  for (let c = 0; c < columns; c++) {
    const angle = (Math.PI * c) / (columns - 1);
    const s = Math.sin(angle);
    const co = Math.cos(angle);
    // Walk on until the next point lies beyond the ray.
    while (i < DIRECTIONS - 2 && xAt(i + 1) * co - yAt(i + 1) * s < 0) i++;
    const x0 = xAt(i);
    const y0 = yAt(i);
    const x1 = xAt(i + 1);
    const y1 = yAt(i + 1);
    const d0 = x0 * co - y0 * s;
    const d1 = x1 * co - y1 * s;
    const t = d1 !== d0 ? Math.min(1, Math.max(0, d0 / (d0 - d1))) : 0;
    out[c] = (x0 + t * (x1 - x0)) * s + (y0 + t * (y1 - y0)) * co;
  }
  return out;
};
