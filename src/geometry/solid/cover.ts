import type { Manifold } from "manifold-3d";
import type { TriangleMesh } from "../mesh";
import { anyPerpendicular, cross, normalize, scale, type Vec3 } from "../vector";
import { componentsOf } from "./components";
import { type Kernel, Scope, unionOf } from "./kernel";

/** A body is covered piece by piece, each about so long, mm. */
const pieceLength = 10;
const mostPieces = 24;
/** Slabs reach so far into each other, mm: a corner between two, or a rounding beyond both, belongs to both. */
const slack = 1e-4;

/**
 * Points of a closed mesh in groups whose convex hulls together hold all that it encloses. The body is cut into slabs
 * across its longest extent; every closed curve in which a plane of a slab cuts the body lies in triangles that hang
 * together there, so the hulls of what hangs together hold what the plane has of the body.
 */
export function coveringPoints({ positions, triangles }: TriangleMesh): Float64Array[] {
  const { axis, least, extent } = longestExtent(positions);
  const count = Math.min(mostPieces, Math.max(1, Math.ceil(extent / pieceLength)));
  const slabOf = (vertex: number) => {
    const slab = Math.floor(((positions[3 * vertex + axis] - least) / (extent || 1)) * count);
    return Math.min(count - 1, Math.max(0, slab));
  };
  const slabs: number[][] = Array.from({ length: count }, () => []);
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [slabOf(triangles[t]), slabOf(triangles[t + 1]), slabOf(triangles[t + 2])];
    for (let slab = Math.min(a, b, c); slab <= Math.max(a, b, c); slab++) slabs[slab].push(t);
  }
  return slabs.flatMap((inSlab, slab) => {
    const corners = Uint32Array.from(inSlab.flatMap((t) => [...triangles.subarray(t, t + 3)]));
    const { ofTriangle, triangleCounts } = componentsOf({ positions, triangles: corners });
    const groups: number[][] = Array.from(triangleCounts, () => []);
    const from = least + (slab * extent) / count - slack;
    const to = least + ((slab + 1) * extent) / count + slack;
    inSlab.forEach((t, i) => {
      addWithin(groups[ofTriangle[i]], positions, triangles.subarray(t, t + 3), axis, from, to);
    });
    return groups.filter((points) => points.length > 0).map((points) => Float64Array.from(points));
  });
}

/** Adds the corners of what a triangle has between two planes. */
function addWithin(
  points: number[],
  positions: Float32Array,
  corners: Uint32Array,
  axis: number,
  from: number,
  to: number,
): void {
  for (let i = 0; i < 3; i++) {
    const a = 3 * corners[i];
    const b = 3 * corners[(i + 1) % 3];
    const [at, then] = [positions[a + axis], positions[b + axis]];
    if (at >= from && at <= to) points.push(positions[a], positions[a + 1], positions[a + 2]);
    for (const plane of [from, to]) {
      if (at < plane === then < plane) continue;
      const share = (plane - at) / (then - at);
      for (let k = 0; k < 3; k++)
        points.push(positions[a + k] + (positions[b + k] - positions[a + k]) * share);
    }
  }
}

/**
 * A solid that encloses a body with some room all round: prisms round the groups that `coveringPoints` gives.
 * @param room mm, above 0; of two covers the one with more room encloses the other
 */
export function coverOf(kernel: Kernel, groups: readonly Float64Array[], room: number): Manifold {
  const scope = new Scope();
  try {
    const prisms = groups.map((points) => scope.hold(kernel.Manifold.hull(prismRound(points, room))));
    return unionOf(kernel, prisms);
  } finally {
    scope.dispose();
  }
}

/** Sides of a prism: few, since every face costs time in all that follows. */
const sides = 6;

/** Corners of a prism along the points' longest extent that has all of them in it. */
function prismRound(points: Float64Array, room: number): [number, number, number][] {
  const [along, across, up] = principalAxes(points);
  const place = (x: number, y: number, z: number): [number, number, number] => [
    x * across[0] + y * up[0] + z * along[0],
    x * across[1] + y * up[1] + z * along[1],
    x * across[2] + y * up[2] + z * along[2],
  ];
  const reach = (direction: Vec3): number => {
    let most = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < points.length; i += 3) {
      most = Math.max(
        most,
        points[i] * direction[0] + points[i + 1] * direction[1] + points[i + 2] * direction[2],
      );
    }
    return most + room;
  };
  const ends = [-reach(scale(along, -1)), reach(along)];
  const faces = Array.from({ length: sides }, (_, i) => {
    const angle = (2 * Math.PI * i) / sides;
    const [x, y] = [Math.cos(angle), Math.sin(angle)];
    return { x, y, reach: reach(place(x, y, 0)) };
  });
  return faces.flatMap((a, i) => {
    const b = faces[(i + 1) % sides];
    const turn = a.x * b.y - a.y * b.x;
    const x = (a.reach * b.y - b.reach * a.y) / turn;
    const y = (a.x * b.reach - b.x * a.reach) / turn;
    return ends.map((z) => place(x, y, z));
  });
}

/** Unit vectors square to each other, the first along the points' longest extent: power iteration of their covariance. */
function principalAxes(points: Float64Array): readonly [Vec3, Vec3, Vec3] {
  const middle = [0, 0, 0];
  for (let i = 0; i < points.length; i++) middle[i % 3] += (3 * points[i]) / points.length;
  let along = normalize([1, 0.7, 0.4]);
  for (let round = 0; round < 12; round++) {
    const sum = [0, 0, 0];
    for (let i = 0; i < points.length; i += 3) {
      const [x, y, z] = [points[i] - middle[0], points[i + 1] - middle[1], points[i + 2] - middle[2]];
      const share = x * along[0] + y * along[1] + z * along[2];
      sum[0] += share * x;
      sum[1] += share * y;
      sum[2] += share * z;
    }
    along = normalize([sum[0], sum[1], sum[2]], along);
  }
  const across = anyPerpendicular(along);
  return [along, across, cross(along, across)];
}

function longestExtent(positions: Float32Array): { axis: number; least: number; extent: number } {
  const least = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  const most = least.map((value) => -value);
  for (let i = 0; i < positions.length; i++) {
    least[i % 3] = Math.min(least[i % 3], positions[i]);
    most[i % 3] = Math.max(most[i % 3], positions[i]);
  }
  const extents = most.map((value, axis) => value - least[axis]);
  const extent = Math.max(...extents);
  const axis = extents.indexOf(extent);
  return { axis, least: least[axis], extent };
}
