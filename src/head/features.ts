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
  [34, 0, 8],
  [26, -1, 7],
  [16, 3, 7],
  [4, 9, 7.5],
  [-8, 15.5, 9],
  [-16, 19.5, 10.5],
  [-21, 16, 12],
  [-27, 3, 12],
  [-33, 0, 11],
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
  h -= 6.5 * bell(x - eye + 1, 13) * bell(z - 14, 8.5);
  h += 4 * bell(x - eye, 8) * bell(z - 12, 5);
  h += 3 * bell(x, 15) * bell(z + 37, 4.5);
  h += 3.2 * bell(x, 14) * bell(z + 47, 4.5);
  h -= 2 * bell(x, 16) * bell(z + 41.8, 1.8);
  return h;
};

/** Height of the ear over the side of the head at y, z (tragion at 0, 0). */
export const earRelief = (y: number, z: number, sizes: FeatureSizes): number => {
  const half = sizes.earLength / 2;
  // The ear leans back by about 12 degrees.
  const dz = z - (22 - half);
  const dy = y + 13 - 0.2 * dz;
  const lobe = dz < 0 ? 0.25 * Math.min(1, -dz / half) : 0;
  const across = dy / (18 * (1 - lobe));
  const along = dz / half;
  const rho = Math.sqrt(across * across + along * along);
  if (rho > 1.15) return 0;
  const edge = 1 - smoothstep(0.72, 1.12, rho);
  const rise = 0.35 + 0.65 * smoothstep(0.9, -0.85, across);
  const hollow = 0.5 * bell(dy - 3, 6.5) * bell(dz + 5, 9) + 0.18 * bell(dy - 1, 6) * bell(dz - 10, 7);
  return sizes.earProtrusion * edge * (rise - hollow);
};
