/**
 * The mean shape of the cranium above the girth, as coefficients. A direction is taken in the box of the head
 * (x over half the breadth, y over half the length, z over the height from girth to crown), where an ellipsoid
 * has radius 1 everywhere; azimuth A from the front, elevation E from the girth:
 *
 * R(A, E) = Σ_m SECTION[m] cos(mA) cos^p(m)(E) + sin²(E) + Σ_m cos(mA) cos^m(E) Σ_k DOME[m][k] sin^(k+2)(E)
 *
 * Every term leaves the girth upright (no first power of sin E) and R is 1 and level at the crown. Least-squares
 * fit to the outer surface of open head images, halves averaged: the single-subject template "ch2" of the Montreal
 * Neurological Institute (Holmes et al. 1998), the average-head surface of the FreeSurfer average subject (Fischl
 * et al. 1999), two magnetic resonance volumes of the BrainBrowser examples and a computed tomography of a head
 * from the InVesalius examples. Only these coefficients come from them. Left out one at a time, each of the five is
 * missed by 1.2 to 2.2 mm rms above the girth.
 */
export const SECTION: readonly number[] = [1.0027, 0.0797, 0.0077, 0.0196, -0.0092, -0.0077];

/** Power of cos E on each harmonic of the section; parity as m, so that the crown is smooth. */
export const SECTION_POWERS: readonly number[] = [2, 3, 2, 3, 4, 5];

export const DOME: readonly (readonly number[])[] = [
  [-0.1272, 0.9723, -1.7294, 1.1191, -0.2347],
  [-0.2934, 0.9251, -0.0403, -1.9621, 1.3707],
  [-0.541, 1.1991, -0.9166, 0.3158],
  [0.0948, 0.185, -0.4006, 0.2204],
];

/** The tragion's share of the length behind the brow; 0.49 to 0.53 in those heads. */
export const TRAGION_BEHIND_BROW = 0.515;
