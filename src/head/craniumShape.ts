/**
 * The mean shape of the cranium above the girth, as coefficients. A direction is taken in the box of the head
 * (x over half the breadth, y over half the length, z over the height from girth to crown), where an ellipsoid
 * has radius 1 everywhere; azimuth A from the front, elevation E from the girth:
 *
 * R(A, E) = Σ_m SECTION[m] cos(mA) cos^p(m)(E) + sin²(E) + Σ_m cos(mA) cos^m(E) Σ_k DOME[m][k] sin^(k+2)(E)
 *
 * Every term leaves the girth upright (no first power of sin E) and R is 1 and level at the crown. The coefficients
 * are a least-squares fit, with the bend near the girth held down, to the mean outer surface of openly distributed
 * head images, halves averaged: the template "ch2" of the Montreal Neurological Institute (Holmes et al. 1998,
 * J Comput Assist Tomogr 22), the head surface of the "fsaverage" mean of 40 adults (Fischl et al. 1999, Human Brain
 * Mapping 8), two magnetic resonance volumes and one computed tomography that are given out as examples with
 * free medical viewers (AGPL-3.0, GPL-2). No part of those data is here, only these statistics of their shape. Each
 * of the five, left out of the fit, is missed by 1.2 to 2.2 mm rms above the girth.
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
