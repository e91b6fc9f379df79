import { Triangle, Vector3 } from "three";
import type { Part } from "../../../src/design/part";
import { meshVolume } from "../../../src/geometry/measure";
import type { PartMesh, TriangleMesh } from "../../../src/geometry/mesh";
import { loadKernel } from "../../../src/geometry/solid/kernel";
import { uniteMeshes } from "../../../src/geometry/solid/unite";
import type { PlacedPiece } from "../../../src/print/placedPiece";
import type { PropNeck } from "../../../src/print/props/strut";

/** Pieces as they stand on the plate, for the tests of this folder, and ways to look at what props are. */

export const kernel = await loadKernel();

/** Bodies united; the triangles are all of part 0. */
export function standing(meshes: readonly TriangleMesh[]): PlacedPiece {
  const { positions, triangles } = uniteMeshes(kernel, meshes, "the piece").mesh;
  return placedAsIs({ positions, triangles, partOfTriangle: new Int32Array(triangles.length / 3) });
}

export const placedAsIs = (mesh: PartMesh): PlacedPiece => ({
  mesh,
  rotation: [1, 0, 0, 0, 1, 0, 0, 0, 1],
  shift: [0, 0, 0],
  size: [0, 1, 2].map((axis) =>
    Math.max(...mesh.positions.filter((_, i) => i % 3 === axis)),
  ) as unknown as PlacedPiece["size"],
});

export const partsNamed = (...names: string[]): Part[] =>
  names.map((name) => ({
    kind: "solid",
    name,
    mesh: { positions: new Float32Array(0), triangles: new Uint32Array(0) },
  }));

/** Distance from a point to a mesh: every triangle, by three's closest point. */
export function distanceTo({ positions: p, triangles: t }: TriangleMesh, point: ArrayLike<number>): number {
  const triangle = new Triangle();
  const from = new Vector3(point[0], point[1], point[2]);
  const found = new Vector3();
  let least = Infinity;
  for (let i = 0; i < t.length; i += 3) {
    triangle.a.fromArray(p, 3 * t[i]);
    triangle.b.fromArray(p, 3 * t[i + 1]);
    triangle.c.fromArray(p, 3 * t[i + 2]);
    least = Math.min(least, triangle.closestPointToPoint(from, found).distanceTo(from));
  }
  return least;
}

/** Points of a mesh's surface: its vertices and the middles of its triangles. */
export function* surfacePoints({ positions: p, triangles: t }: TriangleMesh): Generator<number[]> {
  for (let i = 0; i < p.length; i += 3) yield [p[i], p[i + 1], p[i + 2]];
  for (let i = 0; i < t.length; i += 3) {
    yield [0, 1, 2].map((axis) => (p[3 * t[i] + axis] + p[3 * t[i + 1] + axis] + p[3 * t[i + 2] + axis]) / 3);
  }
}

export const isNearNeck = (necks: readonly PropNeck[], point: readonly number[], within: number): boolean =>
  necks.some(({ at }) => Math.hypot(at[0] - point[0], at[1] - point[1], at[2] - point[2]) < within);

/** Area of a mesh's level section: the outline by Green's theorem, straight from the triangles. */
export function sectionArea({ positions: p, triangles: t }: TriangleMesh, z: number): number {
  let twice = 0;
  for (let i = 0; i < t.length; i += 3) {
    const corners = [0, 1, 2].map((k) => p.subarray(3 * t[i + k], 3 * t[i + k] + 3));
    let [start, end]: (number[] | undefined)[] = [undefined, undefined];
    corners.forEach((a, k) => {
      const b = corners[(k + 1) % 3];
      if (a[2] > z === b[2] > z) return;
      const share = (z - a[2]) / (b[2] - a[2]);
      const crossing = [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
      // Going round a triangle that is seen from outside, the inside lies to the left of what goes down to what goes up.
      if (a[2] > z) start = crossing;
      else end = crossing;
    });
    if (start && end) twice += start[0] * end[1] - end[0] * start[1];
  }
  return Math.abs(twice) / 2;
}

/** Area of a mesh that looks down and leans out more than an angle from the vertical, above the plate, mm². */
export function overhangArea(
  { positions: p, triangles: t }: TriangleMesh,
  angle: number,
  isLeftOut: (middle: number[]) => boolean,
): number {
  let area = 0;
  const triangle = new Triangle();
  const normal = new Vector3();
  for (let i = 0; i < t.length; i += 3) {
    triangle.a.fromArray(p, 3 * t[i]);
    triangle.b.fromArray(p, 3 * t[i + 1]);
    triangle.c.fromArray(p, 3 * t[i + 2]);
    triangle.getNormal(normal);
    const middle = triangle.getMidpoint(new Vector3()).toArray();
    if (-normal.z <= Math.sin((angle * Math.PI) / 180) || middle[2] < 1e-3 || isLeftOut(middle)) continue;
    area += triangle.getArea();
  }
  return area;
}

export { meshVolume };
