import {
  BufferAttribute,
  BufferGeometry,
  DoubleSide,
  Mesh,
  MeshBasicMaterial,
  Raycaster,
  Vector3,
} from "three";
import { describe, expect, it } from "vitest";
import { Random } from "../../../src/design/random";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { rotateAbout, type Vec3 } from "../../../src/geometry/vector";
import { columnRaster } from "../../../src/print/support/columnRaster";
import { box, ellipsoid, moved, together, torus } from "../../checks/shapes";

const seed = 31_415;

function tilted(mesh: TriangleMesh, axis: Vec3, angle: number): TriangleMesh {
  const positions = new Float32Array(mesh.positions.length);
  for (let i = 0; i < positions.length; i += 3) {
    positions.set(rotateAbout([...mesh.positions.subarray(i, i + 3)] as unknown as Vec3, axis, angle), i);
  }
  return { positions, triangles: mesh.triangles };
}

/** Balls, rings and boxes that run through each other. */
function tangle(random: Random): TriangleMesh {
  const place = (): Vec3 => [random.between(-20, 20), random.between(-20, 20), random.between(10, 60)];
  const bodies = Array.from({ length: 9 }, (_, i) => {
    const body = [
      () => ellipsoid(random.between(4, 15), random.between(4, 15), random.between(2, 12), 14, 19),
      () => torus(random.between(8, 16), random.between(1, 4), 31, 11),
      () => box([-8, -5, -3], [random.between(1, 9), 6, 7]),
    ][i % 3]();
    const axis: Vec3 = [Math.SQRT1_2, 0, Math.SQRT1_2];
    return moved(tilted(body, axis, random.between(0, 3)), place());
  });
  return together(...bodies);
}

describe(`the raster of columns, seed ${seed}`, () => {
  it("meets the same intervals as rays of a general-purpose library (three's Raycaster)", () => {
    const random = new Random(seed);
    const solid = tangle(random);
    const raster = columnRaster(solid, 0.7);
    const geometry = new BufferGeometry();
    geometry.setAttribute("position", new BufferAttribute(solid.positions, 3));
    geometry.setIndex(new BufferAttribute(solid.triangles, 1));
    const mesh = new Mesh(geometry, new MeshBasicMaterial({ side: DoubleSide }));
    mesh.updateMatrixWorld();
    let met = 0;
    for (let k = 0; k < 400; k++) {
      const column = random.whole(0, raster.columns - 1);
      const row = random.whole(0, raster.rows - 1);
      const x = raster.origin[0] + (column + 0.5) * raster.cell;
      const y = raster.origin[1] + (row + 0.5) * raster.cell;
      const hits = new Raycaster(new Vector3(x, y, -1000), new Vector3(0, 0, 1))
        .intersectObject(mesh)
        .sort((a, b) => a.distance - b.distance);
      const expected: [number, number][] = [];
      let depth = 0;
      for (const { point, face } of hits) {
        if ((face?.normal.z ?? 0) < 0) {
          if (depth++ === 0) expected.push([point.z, Number.NaN]);
        } else if (--depth === 0) expected[expected.length - 1][1] = point.z;
      }
      const at = row * raster.columns + column;
      const found = Array.from({ length: raster.first[at + 1] - raster.first[at] }, (_, i) => [
        raster.low[raster.first[at] + i],
        raster.high[raster.first[at] + i],
      ]);
      expect(found.length, `cell ${column}, ${row}`).toBe(expected.length);
      found.flat().forEach((z, i) => {
        expect(z).toBeCloseTo(expected.flat()[i], 2);
      });
      met += found.length;
    }
    expect(met).toBeGreaterThan(150);
  });

  it("has the volume of the body at fine cells", () => {
    const ball = moved(ellipsoid(9, 7, 11, 60, 60), [3, -2, 20]);
    const { first, low, high, cell } = columnRaster(ball, 0.1);
    let volume = 0;
    for (let i = 0; i < first[first.length - 1]; i++) volume += (high[i] - low[i]) * cell * cell;
    // 4/3·π·abc; 60 × 60 facets take 0.5 % of it.
    expect(volume / ((4 / 3) * Math.PI * 9 * 7 * 11)).toBeCloseTo(0.9954, 2);
  });

  it("counts a crossing once where cells' middles lie on edges and corners", () => {
    // Corners, edges and diagonals of the faces run through the middles of cells of 1 mm.
    const { first, low, high } = columnRaster(box([0.5, 0.5, 1], [4.5, 4.5, 3]), 1);
    expect(first[first.length - 1]).toBe(16);
    expect(new Set(low)).toEqual(new Set([1]));
    expect(new Set(high)).toEqual(new Set([3]));
  });

  it("takes bodies that touch for one", () => {
    const { first, low, high } = columnRaster(
      together(box([0, 0, 0], [1, 1, 2]), box([0, 0, 2], [1, 1, 5])),
      1,
    );
    expect([first[1] - first[0], low[0], high[0]]).toEqual([1, 0, 5]);
  });

  it("refuses what is no mesh and no grid", () => {
    const cube = box([0, 0, 0], [1, 1, 1]);
    expect(() => columnRaster(cube, 0)).toThrow(/a cell of 0 mm: it must be above 0/);
    expect(() => columnRaster(cube, Number.NaN)).toThrow(RangeError);
    expect(() => columnRaster({ ...cube, triangles: new Uint32Array(0) }, 1)).toThrow(/without triangles/);
    expect(() => columnRaster(moved(cube, [Number.NaN, 0, 0]), 1)).toThrow(/vertex 0 .* must be finite/);
    expect(() => columnRaster(moved(cube, [0, 0, 0], [9e5, 9e5, 1]), 0.5)).toThrow(/too many/);
  });

  it("does not depend on what was rastered before", () => {
    const random = new Random(seed + 5);
    const small = tangle(random);
    const alone = columnRaster(small, 1.3);
    // More cells and crossings than are kept room for, and few.
    columnRaster(box([-300, -300, 0], [300, 300, 5]), 0.45);
    columnRaster(box([-3, -3, 0], [3, 3, 5]), 0.9);
    expect(columnRaster(small, 1.3)).toEqual(alone);
  });
});
