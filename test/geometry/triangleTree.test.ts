import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus";
import { BufferAttribute, BufferGeometry, DoubleSide, Ray, Vector3 } from "three";
import { MeshBVH } from "three-mesh-bvh";
import { describe, expect, it } from "vitest";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { SignedDistance } from "../../src/geometry/signedDistance";
import { emptyPlace, TriangleTree } from "../../src/geometry/triangleTree";
import { completeMeasurements } from "../../src/head/completeMeasurements";
import { buildHeadForm } from "../../src/head/headForm";
import { box, ellipsoid, insideOut, meshOf, moved, together, torus } from "../checks/shapes";

const seed = 20_260;

/** Evenly spread numbers from −1 to 1. */
function numbers(of: number): () => number {
  const generator = xoroshiro128plus(of);
  return () => generator.next() / 2 ** 31;
}

/** The same mesh in three-mesh-bvh 0.9 (MIT), an independent library. */
function reference({ positions, triangles }: TriangleMesh): MeshBVH {
  const geometry = new BufferGeometry();
  geometry.setAttribute("position", new BufferAttribute(positions.slice(), 3));
  geometry.setIndex(new BufferAttribute(triangles.slice(), 1));
  return new MeshBVH(geometry);
}

const head = buildHeadForm(completeMeasurements({ girth: 566 }).measurements).mesh();

const bodies: readonly (readonly [string, TriangleMesh])[] = [
  ["a head form", head],
  ["a torus", torus(80, 5, 60, 12)],
  ["two boxes apart", together(box([-40, -10, -10], [-20, 10, 10]), box([20, -3, -60], [24, 3, 60]))],
  ["a ball squeezed flat", ellipsoid(90, 60, 2, 20, 30)],
];

describe.each(bodies)(`nearest places and rays on %s, seed ${seed}`, (_name, mesh) => {
  const tree = new TriangleTree(mesh);
  const other = reference(mesh);

  it("distances are those of three-mesh-bvh", () => {
    const next = numbers(seed);
    const place = emptyPlace();
    let guess = -1;
    for (let i = 0; i < 2000; i++) {
      const point = new Vector3(150 * next(), 150 * next(), 150 * next());
      const wanted = other.closestPointToPoint(point)!.distance;
      tree.nearest(point.x, point.y, point.z, place, Infinity, guess);
      expect(place.distance).toBeCloseTo(wanted, 3);
      expect(Math.hypot(place.x - point.x, place.y - point.y, place.z - point.z)).toBeCloseTo(
        place.distance,
        6,
      );
      // The weights give the same place on the triangle that is named.
      for (let axis = 0; axis < 3; axis++) {
        const sum = [0, 1, 2].reduce(
          (total, corner) =>
            total +
            place.weights[corner] * mesh.positions[3 * mesh.triangles[3 * place.triangle + corner] + axis],
          0,
        );
        expect(sum).toBeCloseTo([place.x, place.y, place.z][axis], 3);
      }
      guess = place.triangle;
      const near = tree.nearest(point.x, point.y, point.z, place, wanted - 0.01);
      expect([near.triangle, near.distance]).toEqual([-1, Infinity]);
    }
  });

  it("first hits are those of three-mesh-bvh", () => {
    const next = numbers(seed + 1);
    let hits = 0;
    for (let i = 0; i < 2000; i++) {
      const origin = new Vector3(150 * next(), 150 * next(), 150 * next());
      const aim = new Vector3(70 * next(), 70 * next(), 70 * next());
      const direction = aim.sub(origin).normalize();
      const wanted = other.raycastFirst(new Ray(origin, direction), DoubleSide)?.distance ?? -1;
      const ray = [origin.x, origin.y, origin.z, direction.x, direction.y, direction.z] as const;
      const found = tree.firstHit(...ray);
      expect(found).toBeCloseTo(wanted, 3);
      expect(tree.meets(...ray)).toBe(wanted >= 0);
      if (wanted < 0) continue;
      hits++;
      expect(tree.meets(...ray, wanted - 0.01)).toBe(false);
      expect(tree.firstHit(...ray, wanted + 0.01)).toBeCloseTo(wanted, 3);
    }
    expect(hits).toBeGreaterThan(100);
  });
});

describe("a tree", () => {
  it("finds along the axes, from within a face's plane too", () => {
    const tree = new TriangleTree(box([0, 0, 0], [10, 10, 10]));
    expect(tree.firstHit(-5, 5, 4, 1, 0, 0)).toBeCloseTo(5, 9);
    expect(tree.firstHit(0, 5, 4, 1, 0, 0)).toBeCloseTo(10, 9);
    expect(tree.firstHit(5, 5, 20, 0, 0, 1)).toBe(-1);
    expect(tree.meets(5, 4, 20, 0, 0, -1)).toBe(true);
  });

  it("of nothing finds nothing", () => {
    const tree = new TriangleTree({ positions: new Float32Array(), triangles: new Uint32Array() });
    expect(tree.nearest(0, 0, 0, emptyPlace()).triangle).toBe(-1);
    expect(tree.meets(0, 0, 0, 1, 0, 0)).toBe(false);
  });

  it("stands a thousand triangles in one place", () => {
    const many = together(...Array.from({ length: 300 }, () => box([0, 0, 0], [1, 1, 1])));
    expect(new TriangleTree(many).nearest(3, 0.5, 0.5, emptyPlace()).distance).toBeCloseTo(2, 9);
  });
});

describe("signed distance", () => {
  // Distance to a box in closed form: outside the norm of what sticks out of each axis, inside the least depth.
  it(`is the closed form of a box, at faces, edges and corners, seed ${seed}`, () => {
    const distance = new SignedDistance(box([-30, -20, -10], [30, 20, 10]));
    const next = numbers(seed + 2);
    for (let i = 0; i < 5000; i++) {
      const [x, y, z] = [60 * next(), 40 * next(), 20 * next()];
      const over = [Math.abs(x) - 30, Math.abs(y) - 20, Math.abs(z) - 10];
      const outside = Math.hypot(...over.map((value) => Math.max(0, value)));
      const wanted = outside > 0 ? outside : Math.max(...over);
      expect(distance.at(x, y, z)).toBeCloseTo(wanted, 4);
    }
  });

  it("of a ball is the way to its centre less the radius, within the mesh's own error", () => {
    const distance = new SignedDistance(ellipsoid(90, 90, 90, 90, 180));
    const next = numbers(seed + 3);
    for (let i = 0; i < 2000; i++) {
      const [x, y, z] = [150 * next(), 150 * next(), 150 * next()];
      expect(Math.abs(distance.at(x, y, z) - (Math.hypot(x, y, z) - 90))).toBeLessThan(0.06);
    }
  });

  it("has the other sign inside out, and keeps near an open mesh", () => {
    const ball = ellipsoid(50, 50, 50, 40, 80);
    expect(new SignedDistance(insideOut(ball)).at(0, 0, 80)).toBeLessThan(-29);
    const half = meshOf(
      [
        [-50, -50, 0],
        [50, -50, 0],
        [50, 50, 0],
        [-50, 50, 0],
      ],
      [
        [0, 1, 2],
        [0, 2, 3],
      ],
    );
    const plane = new SignedDistance(half);
    expect(plane.at(3, 4, 7)).toBeCloseTo(7, 6);
    expect(plane.at(3, 4, -7)).toBeCloseTo(-7, 6);
    expect(plane.at(3, 4, 7, 6)).toBe(Infinity);
  });

  it("of a moved body moves with it", () => {
    const far = new SignedDistance(moved(box([0, 0, 0], [10, 10, 10]), [1000, -2000, 300]));
    expect(far.at(1005, -1995, 320)).toBeCloseTo(10, 3);
  });
});
