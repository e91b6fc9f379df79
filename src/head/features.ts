/** Face and ears as gentle swellings and hollows over the plain lower head, mm, on a head of average measures. */

export interface FeatureSizes {
  readonly earLength: number;
  readonly earProtrusion: number;
  readonly interpupillaryDistance: number;
}

const bell = (x: number, width: number): number => Math.exp(-0.5 * (x / width) * (x / width));

const smoothstep = (from: number, to: number, x: number): number => {
  const t = Math.min(1, Math.max(0, (x - from) / (to - from)));
  return t * t * (3 - 2 * t);
};

/** How far the nose stands off the face at a height, and half its width there: [z, height, half width]. */
const NOSE: readonly (readonly [number, number, number])[] = [
  [36, 0, 7],
  [25, 0.6, 6],
  [15, 4.2, 5.6],
  [5, 9.4, 6.2],
  [-5, 15, 7.6],
  [-13, 18.8, 9.4],
  [-19, 18.2, 11],
  [-25, 9, 11.6],
  [-30, 2, 10],
  [-35, 0, 9],
];

const noseAt = (z: number): readonly [number, number] => {
  if (z >= NOSE[0][0] || z <= NOSE[NOSE.length - 1][0]) return [0, 8];
  let i = 0;
  while (z < NOSE[i + 1][0]) i++;
  const t = smoothstep(NOSE[i][0], NOSE[i + 1][0], z);
  const linear = (z - NOSE[i][0]) / (NOSE[i + 1][0] - NOSE[i][0]);
  const blend = 0.5 * (t + linear);
  return [
    NOSE[i][1] + blend * (NOSE[i + 1][1] - NOSE[i][1]),
    NOSE[i][2] + linear * (NOSE[i + 1][2] - NOSE[i][2]),
  ];
};

/** Height of nose, eyes and mouth over the plain face at x (≥ 0), z; only for the front of the head. */
export const faceRelief = (x: number, z: number, sizes: FeatureSizes): number => {
  const [noseHeight, noseWidth] = noseAt(z);
  const eye = sizes.interpupillaryDistance / 2;
  let h = noseHeight * bell(x, noseWidth);
  // Socket, ball of the eye and the fold of its lids.
  h -= 5 * bell(x - eye + 3, 12.5) * bell(z - 13, 8.5);
  h += 5.2 * bell(x - eye, 9) * bell(z - 11.5, 5.6);
  h -= 1.1 * bell(x - eye, 10) * bell(z - 18.6, 1.9);
  h -= 0.9 * bell(x - eye, 10) * bell(z - 8.4, 1.9);
  // Brow.
  h += 1.6 * bell(x - eye + 4, 15) * bell(z - 27, 4.2);
  // Wings of the nose.
  h += 2.6 * bell(x - 13, 3.8) * bell(z + 18.5, 4.6);
  // Upper lip, lower lip, the line between, the hollow over the chin.
  h += 4.4 * bell(x, 14.5) * bell(z + 38, 4);
  h += 4.6 * bell(x, 13.5) * bell(z + 47, 3.8);
  h -= 2.6 * bell(x, 17) * bell(z + 42.6, 1.9);
  h -= 0.9 * bell(x, 3) * bell(z + 32, 4);
  h -= 1.6 * bell(x, 15) * bell(z + 56.5, 4);
  h += 1.5 * bell(x, 14) * bell(z + 73, 8);
  return h;
};

/** Where the ear has run out, in shares of its half length and breadth. */
const OUTER = 1.1;

/** Height of the ear over the side of the head at y, z (tragion at 0, 0). */
export const earRelief = (y: number, z: number, sizes: FeatureSizes): number => {
  const half = sizes.earLength / 2;
  // The ear leans back by about 10 degrees; it begins 25 mm above the tragion on the average head.
  const dz = z - (25 - OUTER * half);
  const dy = y + 15.5 - 0.17 * dz;
  const narrow = dz < 0 ? 1 - 0.3 * (dz / half) ** 2 : 1;
  const across = dy / (17.5 * narrow);
  const along = dz / half;
  const rho = Math.sqrt(across * across + along * along);
  if (rho > OUTER) return 0;
  const edge = 1 - smoothstep(0.74 - 0.2 * Math.max(0, -across), OUTER, rho);
  // Close to the head in front, standing off behind.
  const taper = along < 0 ? 1 - 0.55 * along * along : 1 - 0.45 * along * along;
  const rise = 0.22 + 0.72 * smoothstep(0.95, -0.75, across) * taper;
  const rim = 0.1 * bell(rho - 0.8, 0.12);
  const concha = 0.52 * bell(dy - 3.2, 6) * bell(dz + 4.5, 8.5);
  const fossa = 0.2 * bell(dy + 0.5, 6.5) * bell(dz - 12, 6.5);
  const tragus = 0.2 * bell(dy - 12.2, 2.8) * bell(dz + 8, 4.5);
  return sizes.earProtrusion * edge * (rise + rim + tragus - concha - fossa);
};
