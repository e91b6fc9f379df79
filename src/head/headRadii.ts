import { DOME, SECTION, SECTION_POWERS, TRAGION_BEHIND_BROW } from "./craniumShape";
import { girthSection, meanSectionRadius } from "./girthSection";
import { AVERAGE, fillLowerHead, neckCut } from "./lowerHead";
import type { Measurements } from "./measurements";
import { LEAST_ADULT_GIRTH } from "./population";
import type { RadialSurfaceData } from "./radialSurface";

/** How densely a head form's radii are sampled. */
export interface RadiiGrid {
  /** Over azimuth 0..180, both ends included. */
  readonly columns: number;
  /** Over elevation -90..90, both ends included; an odd number. */
  readonly rows: number;
  /** Samples of the girth section over the half turn of the unit box. */
  readonly sectionSamples: number;
}

/** That of head forms. */
export const FORM_GRID: RadiiGrid = { columns: 121, rows: 145, sectionSamples: 721 };

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

const girthColumns = (girth: number, length: number, breadth: number, grid: RadiiGrid): GirthColumns => {
  const { columns: count, sectionSamples } = grid;
  const section = girthSection(girth, length, breadth, sectionSamples);
  const columns = {
    radius: new Float64Array(count),
    boxAzimuth: new Float64Array(count),
    unit: new Float64Array(count),
    ellipse: new Float64Array(count),
  };
  for (let i = 0; i < count; i++) {
    const azimuth = (Math.PI * i) / (count - 1);
    const ux = (2 * Math.sin(azimuth)) / breadth;
    const uy = (2 * Math.cos(azimuth)) / length;
    columns.boxAzimuth[i] = Math.atan2(ux, uy);
    columns.unit[i] = sample(section, columns.boxAzimuth[i]);
    columns.ellipse[i] = 1 / Math.hypot(ux, uy);
    columns.radius[i] = columns.unit[i] * columns.ellipse[i];
  }
  return columns;
};

const averageKnown = new Map<RadiiGrid, GirthColumns>();
const averageColumns = (grid: RadiiGrid): GirthColumns => {
  let average = averageKnown.get(grid);
  if (!average) {
    average = girthColumns(AVERAGE.girth, AVERAGE.length, AVERAGE.breadth, grid);
    averageKnown.set(grid, average);
  }
  return average;
};

/** Builds the radii of the head form from complete measurements (mm). */
export const headRadii = (m: Measurements, grid: RadiiGrid = FORM_GRID): RadialSurfaceData => {
  const { columns, rows } = grid;
  const depth = girthDepth(m);
  const girth = girthColumns(m.girth, m.length, m.breadth, grid);
  const center = [0, m.length * (TRAGION_BEHIND_BROW - girth.unit[0] / 2), m.crownHeight - depth] as const;
  const radii = new Float64Array(columns * rows);
  for (let i = 0; i < columns; i++) {
    const column = new DomeColumn(girth.boxAzimuth[i]);
    const change = girth.unit[i] / meanSectionRadius(girth.boxAzimuth[i]) - 1;
    for (let j = (rows - 1) / 2; j < rows; j++) {
      const elevation = Math.PI * (j / (rows - 1) - 0.5);
      const h = Math.cos(elevation) / girth.ellipse[i];
      const v = Math.sin(elevation) / depth;
      const box = Math.sqrt(h * h + v * v);
      const c = h / box;
      // What the girth's own section adds to the mean one fades towards the crown.
      radii[j * columns + i] = (column.radius(v / box, c) * (1 + change * c ** 6)) / box;
    }
  }
  const average = averageColumns(grid);
  const girthRatio = girth.radius.map((r, i) => r / average.radius[i]);
  const boxRatio = girth.ellipse.map((r, i) => r / average.ellipse[i]);
  fillLowerHead(m, radii, columns, rows, center, girth.radius, girthRatio, boxRatio);
  return { center, baseZ: neckCut(m), columns, rows, radii };
};
