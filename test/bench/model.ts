import { Random } from "../../src/design/random";
import { meshVolume } from "../../src/geometry/measure";
import type { TriangleMesh } from "../../src/geometry/mesh";
import type { TubeShape } from "../../src/geometry/tubeShape";
import type { Vec3 } from "../../src/geometry/vector";

/** Half axes of the bench's head, mm: an ellipsoid, so that nothing but tubes is measured. */
export const headAxes: Vec3 = [77, 100, 120];

/**
 * The bench's model: random overlapping tubes around an ellipsoid head, each through 8 points, radius 4 to 14 mm,
 * seeded.
 */
export function randomTubes(count: number, seed = 1): TubeShape[] {
  const random = new Random(seed);
  return Array.from({ length: count }, (_, i) => randomTube(random.named(i)));
}

function randomTube(random: Random): TubeShape {
  let azimuth = random.between(0, 2 * Math.PI);
  let elevation = random.between(-0.2, 1);
  let lift = random.between(1, 1.12);
  // Each tube wanders its own way round, with a little unrest at each point.
  const hand = random.between(0, 1) < 0.5 ? -1 : 1;
  const [round, rise, off] = [
    hand * random.between(0.2, 0.5),
    random.between(-0.12, 0.12),
    random.between(-0.01, 0.02),
  ];
  const points: Vec3[] = Array.from({ length: 8 }, () => {
    azimuth += round + random.between(-0.08, 0.08);
    elevation += rise + random.between(-0.08, 0.08);
    lift += off + random.between(-0.015, 0.015);
    return [
      headAxes[0] * lift * Math.cos(azimuth) * Math.cos(elevation),
      headAxes[1] * lift * Math.sin(azimuth) * Math.cos(elevation),
      headAxes[2] * lift * Math.sin(elevation),
    ];
  });
  return {
    path: { kind: "through", points, closed: false },
    radius: { shares: [0, 1], radii: [random.between(4, 14), random.between(4, 14)] },
    section: { kind: "circle" },
    twist: 0,
    startTip: { kind: "flat" },
    endTip: { kind: "flat" },
  };
}

/** The same tube after an edit: one point shifted by some mm. */
export function edited(shape: TubeShape, by: number): TubeShape {
  const points = shape.path.points.map(
    (point, i): Vec3 => (i === 4 ? [point[0] + by, point[1] + by, point[2] + by] : point),
  );
  return { ...shape, path: { ...shape.path, points } };
}

/** The ellipsoid head grown by 3 mm all round, as a mesh of latitudes and longitudes. */
export function grownHead(growth = 3, rows = 48, columns = 72): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  const [a, b, c] = headAxes.map((axis) => axis + growth);
  for (let row = 1; row < rows; row++) {
    const polar = (Math.PI * row) / rows;
    for (let column = 0; column < columns; column++) {
      const turn = (2 * Math.PI * column) / columns;
      positions.push(
        a * Math.sin(polar) * Math.cos(turn),
        b * Math.sin(polar) * Math.sin(turn),
        c * Math.cos(polar),
      );
    }
  }
  const top = positions.push(0, 0, c) / 3 - 1;
  const bottom = positions.push(0, 0, -c) / 3 - 1;
  const at = (row: number, column: number) => (row - 1) * columns + (column % columns);
  for (let column = 0; column < columns; column++) {
    triangles.push(top, at(1, column), at(1, column + 1));
    triangles.push(bottom, at(rows - 1, column + 1), at(rows - 1, column));
    for (let row = 1; row < rows - 1; row++) {
      triangles.push(at(row, column), at(row + 1, column), at(row + 1, column + 1));
      triangles.push(at(row, column), at(row + 1, column + 1), at(row, column + 1));
    }
  }
  // The corners of the mesh stand a little off the ellipsoid, so that it has the ellipsoid's volume.
  const share = Math.cbrt(
    ((4 / 3) * Math.PI * a * b * c) /
      meshVolume({ positions: new Float32Array(positions), triangles: new Uint32Array(triangles) }),
  );
  return {
    positions: Float32Array.from(positions, (value) => value * share),
    triangles: new Uint32Array(triangles),
  };
}

/**
 * A tube swept without care: `rings` evenly spaced rings of `segments` corners on the circle itself. What the bench
 * compares with.
 */
export function naiveSweep(
  pointAt: (share: number) => Vec3,
  tangentAt: (share: number) => Vec3,
  radiusAt: (share: number) => number,
  rings = 150,
  segments = 24,
): TriangleMesh {
  const positions = new Float32Array((rings * segments + 2) * 3);
  const triangles: number[] = [];
  let normal: Vec3 | undefined;
  const cross = (p: Vec3, q: Vec3): Vec3 => [
    p[1] * q[2] - p[2] * q[1],
    p[2] * q[0] - p[0] * q[2],
    p[0] * q[1] - p[1] * q[0],
  ];
  const unit = (p: Vec3): Vec3 => {
    const l = Math.hypot(...p);
    return [p[0] / l, p[1] / l, p[2] / l];
  };
  for (let i = 0; i < rings; i++) {
    const share = i / (rings - 1);
    const centre = pointAt(share);
    const along = tangentAt(share);
    const seed: Vec3 = normal ?? (Math.abs(along[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0]);
    const side = unit(cross(along, seed));
    normal = cross(side, along);
    for (let j = 0; j < segments; j++) {
      const turn = (2 * Math.PI * j) / segments;
      for (let axis = 0; axis < 3; axis++) {
        positions[(i * segments + j) * 3 + axis] =
          centre[axis] + radiusAt(share) * (normal[axis] * Math.cos(turn) - side[axis] * Math.sin(turn));
      }
    }
    positions.set(centre, (i === 0 ? rings * segments : rings * segments + 1) * 3);
  }
  for (let j = 0; j < segments; j++) {
    const k = (j + 1) % segments;
    for (let i = 0; i + 1 < rings; i++) {
      const [a, b] = [i * segments + j, i * segments + k];
      triangles.push(a, b, b + segments, a, b + segments, a + segments);
    }
    const last = (rings - 1) * segments;
    triangles.push(rings * segments, k, j, rings * segments + 1, last + j, last + k);
  }
  return { positions, triangles: new Uint32Array(triangles) };
}
