import { DOME, SECTION, SECTION_POWERS, TRAGION_BEHIND_BROW } from "./craniumShape";
import { girthSection, meanSectionRadius } from "./girthSection";
import { AVERAGE, fillLowerHead, neckCut } from "./lowerHead";
import type { Measurements } from "./measurements";
import { LEAST_ADULT_GIRTH } from "./population";
import type { RadialSurfaceData } from "./radialSurface";

const COLUMNS = 121;
const ROWS = 145;
/** Samples of the girth section over the half turn of the unit box. */
const SECTION_SAMPLES = 721;

/** Height from the girth to the crown, mm: 86 to 90 on average adults, in step with the size of smaller heads. */
export const girthDepth = (m: Measurements): number => {
  const size = Math.min(1, m.girth / LEAST_ADULT_GIRTH);
  return size * (88 + 0.3 * (m.crownHeight / size - 129));
};

const sample = (table: Float64Array, angle: number): number => {
  const at = (Math.min(Math.PI, Math.max(0, angle)) / Math.PI) * (table.length - 1);
  const i = Math.min(table.length - 2, Math.floor(at));
  return table[i] + (at - i) * (table[i + 1] - table[i]);
};

/** Weights of the dome's harmonics at one azimuth of the unit box, so that a column costs only products. */
class DomeColumn {
  private readonly section: Float64Array;
  private readonly harmonics: Float64Array;

  constructor(azimuth: number) {
    this.section = Float64Array.from(SECTION, (c, m) => c * Math.cos(m * azimuth));
    this.harmonics = Float64Array.from(DOME, (_, m) => Math.cos(m * azimuth));
  }

  /** Radius over the mean section in the unit box, from sine and cosine of the elevation there. */
  radius(s: number, c: number): number {
    let r = s * s;
    for (let m = 0; m < SECTION.length; m++) {
      let power = c * c;
      for (let k = 2; k < SECTION_POWERS[m]; k++) power *= c;
      r += this.section[m] * power;
    }
    let cm = s * s;
    for (let m = 0; m < DOME.length; m++) {
      let p = 0;
      for (let k = DOME[m].length - 1; k >= 0; k--) p = p * s + DOME[m][k];
      r += this.harmonics[m] * cm * p;
      cm *= c;
    }
    return r;
  }
}

/** The girth section of a head by column of the grid. */
interface GirthColumns {
  /** Distance from the center, mm. */
  readonly radius: Float64Array;
  /** Azimuth in the unit box, rad. */
  readonly boxAzimuth: Float64Array;
  /** Radius in the unit box. */
  readonly unit: Float64Array;
  /** Radius of the ellipse in the same box, mm. */
  readonly ellipse: Float64Array;
}

const girthColumns = (girth: number, length: number, breadth: number): GirthColumns => {
  const section = girthSection(girth, length, breadth, SECTION_SAMPLES);
  const columns = {
    radius: new Float64Array(COLUMNS),
    boxAzimuth: new Float64Array(COLUMNS),
    unit: new Float64Array(COLUMNS),
    ellipse: new Float64Array(COLUMNS),
  };
  for (let i = 0; i < COLUMNS; i++) {
    const azimuth = (Math.PI * i) / (COLUMNS - 1);
    const ux = (2 * Math.sin(azimuth)) / breadth;
    const uy = (2 * Math.cos(azimuth)) / length;
    columns.boxAzimuth[i] = Math.atan2(ux, uy);
    columns.unit[i] = sample(section, columns.boxAzimuth[i]);
    columns.ellipse[i] = 1 / Math.hypot(ux, uy);
    columns.radius[i] = columns.unit[i] * columns.ellipse[i];
  }
  return columns;
};

let averageCache: GirthColumns | undefined;
const averageColumns = (): GirthColumns => {
  averageCache ??= girthColumns(AVERAGE.girth, AVERAGE.length, AVERAGE.breadth);
  return averageCache;
};

/** Builds the radii of the head form from complete measurements (mm). */
export const headRadii = (m: Measurements): RadialSurfaceData => {
  const depth = girthDepth(m);
  const girth = girthColumns(m.girth, m.length, m.breadth);
  const center = [0, m.length * (TRAGION_BEHIND_BROW - girth.unit[0] / 2), m.crownHeight - depth] as const;
  const radii = new Float64Array(COLUMNS * ROWS);
  for (let i = 0; i < COLUMNS; i++) {
    const column = new DomeColumn(girth.boxAzimuth[i]);
    const change = girth.unit[i] / meanSectionRadius(girth.boxAzimuth[i]) - 1;
    for (let j = (ROWS - 1) / 2; j < ROWS; j++) {
      const elevation = Math.PI * (j / (ROWS - 1) - 0.5);
      const h = Math.cos(elevation) / girth.ellipse[i];
      const v = Math.sin(elevation) / depth;
      const box = Math.sqrt(h * h + v * v);
      const c = h / box;
      // What the girth's own section adds to the mean one fades towards the crown.
      radii[j * COLUMNS + i] = (column.radius(v / box, c) * (1 + change * c ** 6)) / box;
    }
  }
  const average = averageColumns();
  const girthRatio = girth.radius.map((r, i) => r / average.radius[i]);
  const boxRatio = girth.ellipse.map((r, i) => r / average.ellipse[i]);
  fillLowerHead(m, radii, COLUMNS, ROWS, center, girth.radius, girthRatio, boxRatio);
  return { center, baseZ: neckCut(m), columns: COLUMNS, rows: ROWS, radii };
};
