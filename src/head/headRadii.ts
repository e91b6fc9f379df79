import { DOME, SECTION, SECTION_POWERS, TRAGION_BEHIND_BROW } from "./craniumShape";
import { earRelief, faceRelief } from "./features";
import { girthSection, meanSectionRadius } from "./girthSection";
import { BASE_HEIGHT, FIRST_NECK_ROW, LOWER_COLUMNS, LOWER_HEAD, NECK_ROW } from "./lowerHeadShape";
import type { Measurements } from "./measurements";
import type { RadialSurfaceData } from "./radialSurface";

const COLUMNS = 121;
const ROWS = 121;
/** Samples of the girth section over the half turn of the unit box. */
const SECTION_SAMPLES = 721;

/** Measures of the head that the lower head's table describes, mm. */
const AVERAGE = { girth: 570, length: 196.4, breadth: 152.2, crownHeight: 129.6, neckGirth: 375 };

/** Height from the girth to the crown, mm: 86 to 90 in adults, in step with the size of smaller heads. */
export const girthDepth = (m: Measurements): number => {
  const size = Math.min(1, m.girth / 510);
  return size * (88 + 0.3 * (m.crownHeight / size - 129));
};

const sample = (table: Float64Array, angle: number): number => {
  const at = (Math.min(Math.PI, Math.max(0, angle)) / Math.PI) * (table.length - 1);
  const i = Math.min(table.length - 2, Math.floor(at));
  return table[i] + (at - i) * (table[i + 1] - table[i]);
};

/** Radius of the dome over the mean section in the unit box, before the girth's own section is worked in. */
const domeRadius = (azimuth: number, elevation: number): number => {
  const s = Math.sin(elevation);
  const c = Math.cos(elevation);
  let r = s * s;
  for (let m = 0; m < SECTION.length; m++) r += SECTION[m] * Math.cos(m * azimuth) * c ** SECTION_POWERS[m];
  let cm = 1;
  for (let m = 0; m < DOME.length; m++) {
    let p = 0;
    for (let k = DOME[m].length - 1; k >= 0; k--) p = p * s + DOME[m][k];
    r += Math.cos(m * azimuth) * cm * s * s * p;
    cm *= c;
  }
  return r;
};

/** Builds the radii of the head form from complete measurements (mm). */
export const headRadii = (m: Measurements): RadialSurfaceData => {
  const depth = girthDepth(m);
  const centerZ = m.crownHeight - depth;
  const section = girthSection(m.girth, m.length, m.breadth, SECTION_SAMPLES);
  const centerY = m.length * (TRAGION_BEHIND_BROW - section[0] / 2);
  const halfL = m.length / 2;
  const halfB = m.breadth / 2;
  const radii = new Float64Array(COLUMNS * ROWS);
  const boxAzimuth = new Float64Array(COLUMNS);
  const girthRadius = new Float64Array(COLUMNS);
  for (let i = 0; i < COLUMNS; i++) {
    const azimuth = (Math.PI * i) / (COLUMNS - 1);
    const ux = Math.sin(azimuth) / halfB;
    const uy = Math.cos(azimuth) / halfL;
    boxAzimuth[i] = Math.atan2(ux, uy);
    girthRadius[i] = sample(section, boxAzimuth[i]) / Math.hypot(ux, uy);
  }
  for (let j = (ROWS - 1) / 2; j < ROWS; j++) {
    const elevation = Math.PI * (j / (ROWS - 1) - 0.5);
    const ce = Math.cos(elevation);
    const se = Math.sin(elevation);
    for (let i = 0; i < COLUMNS; i++) {
      const azimuth = (Math.PI * i) / (COLUMNS - 1);
      const h = ce * Math.hypot(Math.sin(azimuth) / halfB, Math.cos(azimuth) / halfL);
      const v = se / depth;
      const boxElevation = Math.atan2(v, h);
      const A = boxAzimuth[i];
      const cE = Math.cos(boxElevation);
      const change = sample(section, A) / meanSectionRadius(A);
      const unit = domeRadius(A, boxElevation) * (1 + (change - 1) * cE * cE);
      radii[j * COLUMNS + i] = unit / Math.hypot(h, v);
    }
  }
  lowerHead(m, radii, girthRadius, centerY, centerZ);
  return {
    center: [0, centerY, centerZ],
    baseZ: BASE_HEIGHT * faceScale(m),
    columns: COLUMNS,
    rows: ROWS,
    radii,
  };
};

/** Size of the face and neck against the average head. */
const faceScale = (m: Measurements): number =>
  (m.length / AVERAGE.length + m.breadth / AVERAGE.breadth + m.crownHeight / AVERAGE.crownHeight) / 3;

/** Catmull-Rom through four values. */
const cubic = (a: number, b: number, c: number, d: number, t: number): number =>
  b + 0.5 * t * (c - a + t * (2 * a - 5 * b + 4 * c - d + t * (3 * (b - c) + d - a)));

const acrossColumns = (d: readonly number[], azimuth: number): number => {
  const u = (azimuth / Math.PI) * (LOWER_COLUMNS - 1);
  const i = Math.min(LOWER_COLUMNS - 2, Math.floor(u));
  const at = (k: number): number => d[k < 0 ? -k : k >= LOWER_COLUMNS ? 2 * LOWER_COLUMNS - 2 - k : k];
  return cubic(at(i - 1), at(i), at(i + 1), at(i + 2), u - i);
};

let averageGirth: Float64Array | undefined;
const averageGirthRadius = (): Float64Array => {
  if (!averageGirth) {
    const section = girthSection(AVERAGE.girth, AVERAGE.length, AVERAGE.breadth, SECTION_SAMPLES);
    averageGirth = new Float64Array(COLUMNS);
    for (let i = 0; i < COLUMNS; i++) {
      const azimuth = (Math.PI * i) / (COLUMNS - 1);
      const ux = (2 * Math.sin(azimuth)) / AVERAGE.breadth;
      const uy = (2 * Math.cos(azimuth)) / AVERAGE.length;
      averageGirth[i] = sample(section, Math.atan2(ux, uy)) / Math.hypot(ux, uy);
    }
  }
  return averageGirth;
};

/** Perimeter of a half row of distances from the axis, doubled, mm. */
const rowPerimeter = (d: readonly number[]): number => {
  let sum = 0;
  for (let i = 1; i < LOWER_COLUMNS; i++) {
    const step = Math.PI / (LOWER_COLUMNS - 1);
    sum += Math.sqrt(d[i] ** 2 + d[i - 1] ** 2 - 2 * d[i] * d[i - 1] * Math.cos(step));
  }
  return 2 * sum;
};

const lowerHead = (
  m: Measurements,
  radii: Float64Array,
  girthRadius: Float64Array,
  centerY: number,
  centerZ: number,
): void => {
  const scale = faceScale(m);
  const averageZ = AVERAGE.crownHeight - 88;
  const mean = averageGirthRadius();
  const middle = (ROWS - 1) / 2;
  const neck = (m.neckGirth ?? AVERAGE.neckGirth) / rowPerimeter(LOWER_HEAD[NECK_ROW].d);
  const sizes = {
    earLength: (m.earLength ?? 62.6) / scale,
    earProtrusion: (m.earProtrusion ?? 22.2) / scale,
    interpupillaryDistance: (m.interpupillaryDistance ?? 63.3) / scale,
  };
  const heightOf = (z: number): number => (z > 0 ? (z * centerZ) / averageZ : z * scale);
  const SPAN = 8;
  const d: number[] = [];
  const z: number[] = [];
  const bottom = centerZ - BASE_HEIGHT * scale;
  for (let i = 0; i < COLUMNS; i++) {
    const azimuth = (Math.PI * i) / (COLUMNS - 1);
    const ratio = girthRadius[i] / mean[i];
    const first = LOWER_HEAD[0];
    const top = acrossColumns(first.d, azimuth) * ratio;
    d.length = 0;
    z.length = 0;
    // One point above the girth, mirrored, so that the curve leaves the girth upright.
    d.push(top, girthRadius[i], top);
    z.push(2 * centerZ - heightOf(first.z), centerZ, heightOf(first.z));
    for (let k = 1; k < LOWER_HEAD.length; k++) {
      const part = k >= FIRST_NECK_ROW ? 1 : k === FIRST_NECK_ROW - 1 ? 0.4 : 0;
      d.push(acrossColumns(LOWER_HEAD[k].d, azimuth) * (part * neck + (1 - part) * ratio));
      z.push(heightOf(LOWER_HEAD[k].z));
    }
    const last = d.length - 1;
    const side = { d: d[last], z: z[last] };
    let j = middle - 1;
    let before = { d: d[1], z: 0 };
    for (let k = 1; k < last && j >= 0; k++) {
      for (let n = 1; n <= SPAN && j >= 0; n++) {
        const t = n / SPAN;
        const after = {
          d: cubic(d[k - 1], d[k], d[k + 1], d[Math.min(last, k + 2)], t),
          z: cubic(z[k - 1], z[k], z[k + 1], z[Math.min(last, k + 2)], t) - centerZ,
        };
        for (; j >= 0; j--) {
          const elevation = Math.PI * (j / (ROWS - 1) - 0.5);
          const se = Math.sin(elevation);
          const ce = Math.cos(elevation);
          const e0 = before.z * ce - before.d * se;
          const e1 = after.z * ce - after.d * se;
          if (e1 > 0) break;
          const f = e0 !== e1 ? e0 / (e0 - e1) : 0;
          const pd = before.d + f * (after.d - before.d);
          const pz = before.z + f * (after.z - before.z);
          let r = pd * ce + pz * se;
          // The relief is shaped on the average head.
          const x = (pd * Math.sin(azimuth)) / scale;
          const y = (pd * Math.cos(azimuth) + centerY) / scale;
          const height = pz + centerZ > 0 ? ((pz + centerZ) * averageZ) / centerZ : (pz + centerZ) / scale;
          if (azimuth < 1.2) r += faceRelief(x, height, sizes) * scale;
          else if (azimuth < 2.6) r += earRelief(y, height, sizes) * scale;
          radii[j * COLUMNS + i] = r;
        }
        before = after;
      }
    }
    for (; j >= 0; j--) {
      const elevation = Math.PI * (j / (ROWS - 1) - 0.5);
      radii[j * COLUMNS + i] = Math.min(side.d / Math.cos(elevation), 1.4 * bottom);
    }
  }
};
