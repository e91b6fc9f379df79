import { emptyPlace, type TriangleTree } from "../geometry/triangleTree";
import { RadialSurface, type RadialSurfaceData } from "./radialSurface";

/**
 * Shares of the mean form's radius between which the skin is looked for. Above the girth hair may stand far off; below
 * it chins differ, and shoulders and collars are no head.
 */
const bands = {
  above: [0.6, 1.7],
  below: [0.5, 1.35],
} as const;
/** Elevation at which the one turns into the other, degrees. */
const bandsMeet = [-20, 0] as const;
/**
 * Below this elevation, rad, what has no skin within the band and some beyond it is a thick neck or a body, and a face
 * that lies level, by the upright share of its normal, is where the scan was cut off.
 */
const bodyBelow = (-40 * Math.PI) / 180;
const level = 0.85;
/** What lies below the form's base by more than this share of its depth is not looked for. */
const belowBase = 1.25;
/** Walls that a ray passes at most. */
const mostWalls = 8;
/** The triangles' facing is trusted where so many of the rays first meet a face that looks out. */
const trustedFacing = 0.9;
/** A ray that differs by more than this from the median of its eight neighbours met a strand or a slit, mm. */
const strand = 3;

/**
 * Distances from the centre to the outermost skin of a scan in each direction of a whole grid, mm; NaN where the scan
 * has none, and below the form's base. A body goes on as thick as a neck may be. Each is the mean of the rays round it,
 * two to a step of the grid, weighted by nearness.
 * @param mean the whole surface of the mean form, which tells about where the skin lies
 */
export function castRays(tree: TriangleTree, mean: RadialSurfaceData): Float64Array {
  const { columns, rows } = mean;
  const [fineColumns, fineRows] = [2 * columns, 2 * rows - 1];
  const fine = withoutStrands(fineRays(tree, mean, fineColumns, fineRows), fineColumns, fineRows);
  const radii = new Float64Array(columns * rows);
  for (let j = 0; j < rows; j++) {
    for (let i = 0; i < columns; i++) {
      let sum = 0;
      let weights = 0;
      for (let dj = -1; dj <= 1; dj++) {
        const row = 2 * j + dj;
        if (row < 0 || row >= fineRows) continue;
        for (let di = -1; di <= 1; di++) {
          const radius = fine[row * fineColumns + ((2 * i + di + fineColumns) % fineColumns)];
          if (Number.isNaN(radius)) continue;
          const weight = (2 - Math.abs(dj)) * (2 - Math.abs(di));
          sum += weight * radius;
          weights += weight;
        }
      }
      // At the rim of a hole, more than half must be there: else it is the hole's.
      radii[j * columns + i] = weights > 8 ? sum / weights : Number.NaN;
    }
  }
  return radii;
}

function fineRays(tree: TriangleTree, mean: RadialSurfaceData, columns: number, rows: number): Float64Array {
  const rays = new SkinRays(tree, mean);
  const radii = new Float64Array(columns * rows);
  const looksIn: number[] = [];
  let met = 0;
  const cast = (k: number, onlyOutward: boolean): void => {
    const elevation = Math.PI * (Math.floor(k / columns) / (rows - 1) - 0.5);
    radii[k] = rays.skinAt((2 * Math.PI * (k % columns)) / columns, elevation, onlyOutward);
  };
  for (let k = 0; k < radii.length; k++) {
    cast(k, false);
    if (Number.isNaN(radii[k])) continue;
    met++;
    if (rays.looksIn) looksIn.push(k);
  }
  // A wall that is seen from its inner side through a hole is no skin.
  if (looksIn.length <= (1 - trustedFacing) * met) for (const k of looksIn) cast(k, true);
  return radii;
}

/** Looks for the outermost skin of a scan along rays from the centre. */
class SkinRays {
  /** Whether the face that was found last looks to the centre. */
  looksIn = false;
  readonly #tree: TriangleTree;
  readonly #surface: RadialSurface;
  readonly #place = emptyPlace();
  readonly #normal = new Float64Array(3);

  constructor(tree: TriangleTree, mean: RadialSurfaceData) {
    this.#tree = tree;
    this.#surface = new RadialSurface(mean);
  }

  /** Distance from the centre to the skin, mm, or NaN. */
  skinAt(azimuth: number, elevation: number, onlyOutward: boolean): number {
    const tree = this.#tree;
    const { center, baseZ } = this.#surface.data;
    const usual = this.#surface.uncutRadius(azimuth, elevation);
    const [ce, se] = [Math.cos(elevation), Math.sin(elevation)];
    const [dx, dy, dz] = [ce * Math.sin(azimuth), ce * Math.cos(azimuth), se];
    if (-usual * se > belowBase * (center[2] - baseZ)) return Number.NaN;
    const [least, most] = bandAt(elevation);
    const end = least * usual;
    let radius = most * usual;
    for (let walls = 0; walls < mostWalls && radius > end; walls++) {
      const [x, y, z] = [center[0] + radius * dx, center[1] + radius * dy, center[2] + radius * dz];
      const distance = tree.firstHit(x, y, z, -dx, -dy, -dz, radius - end);
      if (distance < 0) {
        const isInBody =
          walls === 0 && elevation < bodyBelow && tree.firstHit(x, y, z, dx, dy, dz, usual) >= 0;
        this.looksIn = false;
        return isInBody ? radius : Number.NaN;
      }
      radius -= distance;
      this.#face(x - distance * dx, y - distance * dy, z - distance * dz);
      const [nx, ny, nz] = this.#normal;
      if (elevation < bodyBelow && Math.abs(nz) > level) return Number.NaN;
      this.looksIn = dx * nx + dy * ny + dz * nz < 0;
      if (!(onlyOutward && this.looksIn)) return radius;
      radius -= 1e-3;
    }
    return Number.NaN;
  }

  /** Finds the unit normal of the face at a place of the mesh. */
  #face(x: number, y: number, z: number): void {
    const { mesh } = this.#tree;
    this.#tree.nearest(x, y, z, this.#place, 0.05);
    const { triangle } = this.#place;
    if (triangle < 0) {
      this.#normal.fill(0);
      return;
    }
    const { positions: p, triangles } = mesh;
    const a = 3 * triangles[3 * triangle];
    const b = 3 * triangles[3 * triangle + 1];
    const c = 3 * triangles[3 * triangle + 2];
    const [ux, uy, uz] = [p[b] - p[a], p[b + 1] - p[a + 1], p[b + 2] - p[a + 2]];
    const [vx, vy, vz] = [p[c] - p[a], p[c + 1] - p[a + 1], p[c + 2] - p[a + 2]];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    const size = Math.sqrt(nx * nx + ny * ny + nz * nz);
    this.#normal[0] = nx / size;
    this.#normal[1] = ny / size;
    this.#normal[2] = nz / size;
  }
}

function bandAt(elevation: number): readonly [least: number, most: number] {
  const [low, high] = bandsMeet;
  const t = Math.min(1, Math.max(0, ((elevation * 180) / Math.PI - low) / (high - low)));
  const at = (end: 0 | 1): number => bands.below[end] + t * (bands.above[end] - bands.below[end]);
  return [at(0), at(1)];
}

/** Rays that differ from the median of their neighbours take it. */
function withoutStrands(radii: Float64Array, columns: number, rows: number): Float64Array {
  const out = Float64Array.from(radii);
  const near = new Float64Array(9);
  for (let j = 1; j < rows - 1; j++) {
    for (let i = 0; i < columns; i++) {
      const own = radii[j * columns + i];
      if (Number.isNaN(own)) continue;
      let count = 0;
      for (let dj = -1; dj <= 1; dj++) {
        for (let di = -1; di <= 1; di++) {
          const radius = radii[(j + dj) * columns + ((i + di + columns) % columns)];
          if (Number.isNaN(radius)) continue;
          let at = count++;
          for (; at > 0 && near[at - 1] > radius; at--) near[at] = near[at - 1];
          near[at] = radius;
        }
      }
      const median = near[count >> 1];
      if (Math.abs(own - median) > strand) out[j * columns + i] = median;
    }
  }
  return out;
}
