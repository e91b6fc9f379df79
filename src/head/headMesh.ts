import type { TriangleMesh } from "../geometry/mesh";
import { emptySample, type RadialSurface } from "./radialSurface";

/** How fine a mesh of the head is. */
export interface MeshResolution {
  /** Vertices around each level; even, so that left mirrors right. */
  readonly columns: number;
  /** Rows from the girth to the crown. */
  readonly rowsAbove: number;
  /** Rows from the girth to the neck's cut. */
  readonly rowsBelow: number;
}

/** For display and export: about 20,000 triangles, within 0.15 mm of the surface on the cranium. */
export const FINE: MeshResolution = { columns: 120, rowsAbove: 32, rowsBelow: 54 };
/** For the boolean subtraction: about 6,000 triangles, within 0.25 mm of the surface on the cranium. */
export const COARSE: MeshResolution = { columns: 80, rowsAbove: 24, rowsBelow: 14 };

/** Elevation at which the neck meets its flat cut, rad. */
const cutElevation = (surface: RadialSurface, azimuth: number): number => {
  const depth = surface.data.center[2] - surface.data.baseZ;
  let above = 0;
  let below = -Math.PI / 2;
  for (let k = 0; k < 40; k++) {
    const middle = (above + below) / 2;
    if (surface.uncutRadius(azimuth, middle) * -Math.sin(middle) < depth) above = middle;
    else below = middle;
  }
  return above;
};

/**
 * Meshes the surface: closed, outward, cut flat at the neck; the left half is the exact mirror of the right, unless
 * the surface is whole. A row of vertices lies in the girth plane and one on the edge of the cut.
 */
export const meshSurface = (surface: RadialSurface, resolution: MeshResolution): TriangleMesh => {
  const columns = Math.max(8, 2 * Math.round(resolution.columns / 2));
  const { rowsAbove, rowsBelow } = resolution;
  const half = columns / 2;
  const rings = rowsAbove + rowsBelow;
  const positions = new Float32Array(3 * (rings * columns + 2));
  const sample = emptySample();
  const { center, baseZ, whole } = surface.data;
  surface.evaluate(0, Math.PI / 2, sample);
  positions.set([center[0], center[1], sample.z], 0);
  positions.set([center[0], center[1], baseZ], positions.length - 3);
  const last = whole ? columns - 1 : half;
  for (let i = 0; i <= last; i++) {
    const azimuth = (Math.PI * i) / half;
    const cut = cutElevation(surface, azimuth);
    for (let j = 1; j <= rings; j++) {
      const share = (j - rowsAbove) / rowsBelow;
      const elevation =
        j <= rowsAbove ? (Math.PI / 2) * (1 - j / rowsAbove) : cut * (1 - (1 - share) ** 1.15);
      surface.evaluate(azimuth, elevation, sample);
      const middle = !whole && (i === 0 || i === half);
      const x = middle ? 0 : sample.x;
      const z = j === rings ? baseZ : sample.z;
      const ring = 1 + (j - 1) * columns;
      positions.set([x, sample.y, z], 3 * (ring + i));
      if (!middle && !whole) positions.set([-x, sample.y, z], 3 * (ring + columns - i));
    }
  }
  const triangles = trianglesOf(columns, rings);
  balance(surface, { positions, triangles }, columns, rings);
  return { positions, triangles };
};

/** The triangles between rings of vertices, column by column; the last of each column lies on the neck's cut. */
const trianglesOf = (columns: number, rings: number): Uint32Array => {
  const half = columns / 2;
  const foot = 1 + rings * columns;
  const triangles = new Uint32Array(3 * (2 * columns * rings));
  let t = 0;
  const put = (a: number, b: number, c: number): void => {
    triangles[t++] = a;
    triangles[t++] = b;
    triangles[t++] = c;
  };
  // Azimuth runs clockwise seen from above (front, right, back).
  for (let i = 0; i < columns; i++) {
    const next = (i + 1) % columns;
    put(0, 1 + next, 1 + i);
    for (let j = 0; j < rings - 1; j++) {
      const a = 1 + j * columns + i;
      const b = 1 + j * columns + next;
      const c = a + columns;
      const d = b + columns;
      // The diagonal mirrors too.
      if (i < half) {
        put(a, b, d);
        put(a, d, c);
      } else {
        put(a, b, c);
        put(b, d, c);
      }
    }
    const last = 1 + (rings - 1) * columns;
    put(foot, last + i, last + next);
  }
  return triangles;
};

/** Of the gap between a triangle and a smooth surface through its corners, the mean is this share of the middle's. */
const meanOfMiddle = 3 / 4;

/**
 * Moves the vertices out by the mean gap that their triangles leave under the surface, so that the mesh has the
 * surface's volume and girth instead of falling short everywhere. The edge of the neck's cut stays.
 */
const balance = (surface: RadialSurface, mesh: TriangleMesh, columns: number, rings: number): void => {
  const { positions, triangles } = mesh;
  const { center, whole } = surface.data;
  const half = columns / 2;
  const gaps = new Float64Array(positions.length / 3);
  const counts = new Uint16Array(positions.length / 3);
  const perColumn = 6 * rings;
  // Of a mirrored surface one half alone is measured.
  for (let t = 0; t < perColumn * (whole ? columns : half); t += 3) {
    if (t % perColumn === perColumn - 3) continue;
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    const [x, y, z] = [0, 1, 2].map(
      (axis) => (positions[3 * a + axis] + positions[3 * b + axis] + positions[3 * c + axis]) / 3,
    );
    const reach = Math.hypot(x - center[0], y - center[1], z - center[2]);
    const gap = surface.uncutRadius(surface.azimuthOf(x, y), surface.elevationOf(x, y, z)) - reach;
    for (const vertex of [a, b, c]) {
      gaps[vertex] += gap;
      counts[vertex]++;
    }
  }
  const move = (from: number, to: number): void => {
    const at = [0, 1, 2].map((axis) => positions[3 * to + axis] - center[axis]);
    const growth = 1 + (meanOfMiddle * gaps[from]) / counts[from] / Math.hypot(...at);
    for (let axis = 0; axis < 3; axis++) positions[3 * to + axis] = center[axis] + at[axis] * growth;
  };
  move(0, 0);
  for (let ring = 0; ring < rings - 1; ring++) {
    const first = 1 + ring * columns;
    const last = whole ? columns - 1 : half;
    for (let i = 0; i <= last; i++) {
      move(first + i, first + i);
      if (!whole && i > 0 && i < half) move(first + i, first + columns - i);
    }
  }
};
