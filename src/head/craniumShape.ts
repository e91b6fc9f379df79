/**
 * The mean shape of the cranium above the girth, as coefficients. A direction is taken in the box of the head
 * (x over half the breadth, y over half the length, z over the height from girth to crown), where an ellipsoid
 * has radius 1 everywhere; azimuth A from the front, elevation E from the girth:
 *
 * R(A, E) = Σ_m SECTION[m] cos(mA) cos^p(m)(E) + sin²(E) + Σ_m cos(mA) cos^m(E) Σ_k DOME[m][k] sin^(k+2)(E)
 *
 * Every term leaves the girth upright (no first power of sin E) and R is 1 and level at the crown. Least-squares
 * fit, with the bend near the girth held down, to the outer surface of open head images, halves averaged: the single-subject template "ch2" of the Montreal
 * Neurological Institute (Holmes et al. 1998), the average-head surface of the FreeSurfer average subject (Fischl
 * et al. 1999), two magnetic resonance volumes of the BrainBrowser examples and a computed tomography of a head
 * from the InVesalius examples. Only these coefficients come from them. Left out one at a time, each of the five is
 * missed by 1.2 to 2.2 mm rms above the girth.
 */
export const SECTION: readonly number[] = [1.0023, 0.0766, 0.0008, 0.0212, -0.0091, -0.0076];

/** Power of cos E on each harmonic of the section; parity as m, so that the crown is smooth. */
export const SECTION_POWERS: readonly number[] = [2, 3, 2, 3, 4, 5];

export const DOME: readonly (readonly number[])[] = [
  [0.0221, 0.2327, -0.5126, 0.3444, -0.0866],
  [0.0347, -0.5301, 2.0462, -2.9115, 1.3607],
  [-0.1748, 0.1246, 0.0923, 0.022],
  [0.0754, 0.1655, -0.3745, 0.2628],
];

/** The tragion's share of the length behind the brow; 0.49 to 0.53 in those heads. */
export const TRAGION_BEHIND_BROW = 0.515;
