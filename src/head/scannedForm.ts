import type { TriangleMesh } from "../geometry/mesh";
import { TriangleTree } from "../geometry/triangleTree";
import type { Vec3 } from "../geometry/vector";
import { girthRange } from "./girthSection";
import { buildHeadForm, HeadForm } from "./headForm";
import { measureLevel } from "./measureMesh";
import type { Measurements } from "./measurements";
import { azimuthOfColumn, type RadialSurface, type RadialSurfaceData } from "./radialSurface";
import type { ScanMeasures } from "./scanMeasuring";
import { distanceToForm } from "./scannedFormDistance";
import { filledRatios } from "./scannedFormFill";
import { castRays } from "./scannedFormRays";
import { sizedToMeasures } from "./scannedFormSize";

/** Samples round the head and from pole to pole: 1.5 by 1.25 degrees, on the cranium 2.5 by 2 mm. */
const COLUMNS = 240;
const ROWS = 145;

/** The girth plane lies where the girth is this share of the greatest, at most so far from the usual level, mm. */
const sameGirth = 0.999;
const mostOff = 12;
const levelStep = 1;

/** A closed head form that follows a scan. */
export interface ScannedForm {
  readonly surface: RadialSurfaceData;
  /** 95 % of the scan above the girth lies within this distance of the form's mesh, mm. */
  readonly within: number;
  /** Share of the form above the girth that the scan does not have, and that the mean head of the measures fills. */
  readonly filled: number;
}

/**
 * The closed form of a scan in the head frame, mm: the outermost skin, ears too, as rays from the head's centre meet
 * it. The cubic B-spline has the mean of the rays round each sample for its coefficients, so that it follows without
 * swinging over where the skin steps, at an ear's edge, and noise evens out (Schoenberg 1946, *Contributions to the
 * problem of approximation of equidistant data by analytic functions*, Quarterly of Applied Mathematics 4: such a
 * spline is variation diminishing). What the scan lacks, and all below the form's base, is the mean head of the
 * measures, brought to the size of the skin at the rim. Girth, length, breadth and crown height of the form's mesh
 * are those of the scan.
 * @param mesh cleaned, facing outward; it may be open, rough, with walls inside and shoulders below
 * @param measurements complete, with the scan's own girth, length, breadth and crown height
 * @param tree of the mesh, where it is at hand
 */
export function scannedForm(
  mesh: TriangleMesh,
  measured: ScanMeasures,
  measurements: Measurements,
  tree = new TriangleTree(mesh),
): ScannedForm {
  const mean = meanForm(measurements);
  const { baseZ } = mean.surface.data;
  const [x, y, usual] = mean.center;
  const center: Vec3 = [x, y, girthLevel(mesh, measured.girth, usual)];
  const grid = { center, baseZ, columns: COLUMNS, whole: true, rows: ROWS };
  const means = new Float64Array(COLUMNS * ROWS);
  for (let j = 0; j < ROWS; j++) {
    const elevation = Math.PI * (j / (ROWS - 1) - 0.5);
    for (let i = 0; i < COLUMNS; i++) {
      const k = j * COLUMNS + i;
      means[k] = radiusFrom(mean.surface, center, azimuthOfColumn(grid, i), elevation);
    }
  }
  const ratios = castRays(tree, { ...grid, radii: means }).map((radius, k) => radius / means[k]);
  const filled = shareAboveGirth(ratios);
  const coefficients = filledRatios(ratios, COLUMNS, ROWS).map((ratio, k) => ratio * means[k]);
  const radii = throughCoefficients(coefficients, COLUMNS, ROWS);
  const surface = sizedToMeasures({ ...grid, radii }, measurements, measured);
  const form = new HeadForm({ measurements, surface });
  return { surface, within: distanceToForm(tree, form), filled };
}

/**
 * Height of the girth plane, mm: the level nearest to where the girth usually lies on which the tape reads the girth,
 * since a scan's greatest may lie anywhere in a range of heights that hardly differ.
 */
function girthLevel(mesh: TriangleMesh, girth: number, usual: number): number {
  let [best, most] = [usual, 0];
  for (let off = 0; off <= mostOff; off += levelStep) {
    for (const z of off === 0 ? [usual] : [usual - off, usual + off]) {
      const around = measureLevel(mesh, z)?.girth ?? 0;
      if (around > most) [best, most] = [z, around];
      if (around >= sameGirth * girth) return z;
    }
  }
  return best;
}

/** Distance from a point near a surface's centre to the surface, mm: the root along the ray, by the secant method. */
function radiusFrom(surface: RadialSurface, from: Vec3, azimuth: number, elevation: number): number {
  const { center } = surface.data;
  const [ce, se] = [Math.cos(elevation), Math.sin(elevation)];
  const direction = [ce * Math.sin(azimuth), ce * Math.cos(azimuth), se];
  const outside = (radius: number): number => {
    const [x, y, z] = direction.map((share, axis) => from[axis] + radius * share - center[axis]);
    const level = Math.hypot(x, y);
    return Math.hypot(level, z) - surface.uncutRadius(Math.atan2(x, y), Math.atan2(z, level));
  };
  let radius = surface.uncutRadius(azimuth, elevation);
  if (from[2] === center[2]) return radius;
  let before = radius;
  let missBefore = outside(before);
  radius -= missBefore;
  for (let n = 0; n < 12; n++) {
    const miss = outside(radius);
    if (Math.abs(miss) < 1e-3) break;
    const slope = (miss - missBefore) / (radius - before);
    [before, missBefore] = [radius, miss];
    radius -= miss / Math.max(0.5, slope);
  }
  return radius;
}

/** The head form of measures; of the nearest girth that an outline has, where a scan's own is no head's. */
function meanForm(measurements: Measurements): HeadForm {
  const [least, most] = girthRange(measurements.length, measurements.breadth);
  const girth = Math.min(most, Math.max(least, measurements.girth));
  return buildHeadForm({ ...measurements, girth });
}

/** Share of the half sphere above the girth where there is no number. */
function shareAboveGirth(ratios: Float64Array): number {
  let missing = 0;
  let whole = 0;
  for (let j = (ROWS - 1) / 2; j < ROWS; j++) {
    const area = Math.cos(Math.PI * (j / (ROWS - 1) - 0.5));
    for (let i = 0; i < COLUMNS; i++) {
      whole += area;
      if (Number.isNaN(ratios[j * COLUMNS + i])) missing += area;
    }
  }
  return missing / whole;
}

/** Radii of the spline that has these coefficients: one sixth, four sixths, one sixth of its neighbours each way. */
function throughCoefficients(values: Float64Array, columns: number, rows: number): Float64Array {
  const around = new Float64Array(values.length);
  for (let j = 0; j < rows; j++) {
    const row = j * columns;
    for (let i = 0; i < columns; i++) {
      const before = values[row + ((i + columns - 1) % columns)];
      const after = values[row + ((i + 1) % columns)];
      around[row + i] = (before + 4 * values[row + i] + after) / 6;
    }
  }
  const radii = new Float64Array(values.length);
  const half = columns / 2;
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      const opposite = (i + half) % columns;
      const below = j > 0 ? around[(j - 1) * columns + i] : around[columns + opposite];
      const above = j < rows - 1 ? around[(j + 1) * columns + i] : around[(rows - 2) * columns + opposite];
      radii[j * columns + i] = (below + 4 * around[j * columns + i] + above) / 6;
    }
  }
  // A pole is one point.
  for (const row of [0, rows - 1]) {
    const pole = radii.subarray(row * columns, (row + 1) * columns);
    pole.fill(pole.reduce((sum, radius) => sum + radius, 0) / columns);
  }
  return radii;
}
