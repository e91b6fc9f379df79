import { BufferAttribute, BufferGeometry, Vector3 } from "three";
import { MeshBVH } from "three-mesh-bvh";
import { describe, expect, test } from "vitest";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { greatestSurfaceDistance } from "../../src/geometry/surfaceDistance";
import { surfaceSamples } from "../../src/geometry/surfaceSamples";
import { box, ellipsoid, moved, together, torus } from "../checks/shapes";

/** From dense samples of each to the other in three-mesh-bvh 0.9 (MIT), an independent library: never too much. */
function bySamples(a: TriangleMesh, b: TriangleMesh, spacing: number): number {
  const from = (mesh: TriangleMesh, other: TriangleMesh) => {
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(other.positions.slice(), 3));
    geometry.setIndex(new BufferAttribute(other.triangles.slice(), 1));
    const tree = new MeshBVH(geometry);
    const { positions, count } = surfaceSamples(mesh, spacing);
    let most = 0;
    for (let i = 0; i < count; i++) {
      const point = new Vector3(positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]);
      most = Math.max(most, tree.closestPointToPoint(point)!.distance);
    }
    return most;
  };
  return Math.max(from(a, b), from(b, a));
}

const ring = torus(80, 5, 60, 16);

describe("greatest distance of two surfaces", () => {
  test("by hand: a box that grew, a box moved, one more body", () => {
    const cube = box([0, 0, 0], [10, 10, 10]);
    const tall = greatestSurfaceDistance(cube, box([0, 0, 0], [10, 10, 17]));
    expect(tall.distance).toBeCloseTo(7, 6);
    expect(tall.at[2]).toBeCloseTo(17, 6);
    // A corner that moved off along the diagonal is nearest to the old corner.
    expect(greatestSurfaceDistance(cube, moved(cube, [3, 4, 12])).distance).toBeCloseTo(13, 5);
    const more = together(cube, box([40, 0, 0], [41, 1, 1]));
    expect(greatestSurfaceDistance(cube, more).distance).toBeCloseTo(Math.hypot(31, 0, 0), 6);
  });

  test("the farthest point may lie inside a triangle: a plate whose middle was taken out", () => {
    const plate = box([-20, -20, 0], [20, 20, 1]);
    const strips = together(box([-20, -20, 0], [-10, 20, 1]), box([10, -20, 0], [20, 20, 1]));
    const { distance, at, within } = greatestSurfaceDistance(plate, strips);
    // Half-way between the strips, 10 mm from either; all corners of the plate lie on them.
    expect(distance).toBeLessThanOrEqual(10);
    expect(distance).toBeGreaterThanOrEqual(10 - within);
    expect(Math.abs(at[0])).toBeLessThanOrEqual(within);
    expect(within).toBe(0.05);
  });

  test("the same surface: nothing; the same but for its order: nothing", () => {
    expect(greatestSurfaceDistance(ring, ring).distance).toBe(0);
    const triangles = ring.triangles.slice();
    triangles.set([triangles[1], triangles[2], triangles[0]]);
    expect(greatestSurfaceDistance(ring, { ...ring, triangles }).distance).toBe(0);
  });

  test.each([
    ["a thicker ring", ring, torus(80, 6, 60, 16)],
    ["a finer ring", ring, torus(80, 5, 100, 20)],
    ["a ring moved off", ring, moved(ring, [0.4, 0, 2])],
    ["balls of other axes", ellipsoid(90, 60, 20, 24, 40), ellipsoid(80, 66, 25, 20, 31)],
  ])("%s: dense samples find no more, and nearly as much", (_, a, b) => {
    const { distance, within } = greatestSurfaceDistance(a, b);
    const sampled = bySamples(a, b, 1.2);
    expect(sampled).toBeLessThanOrEqual(distance + within + 1e-4);
    expect(sampled).toBeGreaterThan(distance - 0.1);
  });
});
