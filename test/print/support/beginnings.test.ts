import { describe, expect, it } from "vitest";
import { Random } from "../../../src/design/random";
import type { TriangleMesh } from "../../../src/geometry/mesh";
import { rotateAbout, type Vec3 } from "../../../src/geometry/vector";
import { whatBegins } from "../../../src/print/support/beginnings";
import { type ColumnRaster, columnRaster } from "../../../src/print/support/columnRaster";
import { edgesOfVertices } from "../../../src/print/support/edgesOfVertices";
import { sinkOf } from "../../../src/print/support/rasterSteps";
import { box, ellipsoid, moved, together, torus } from "../../checks/shapes";

const seed = 1_618;

/** Boxes, balls and rings apart from each other, each turned anyhow: edges, corners and bellies that look down. */
function bodies(random: Random): TriangleMesh {
  const made = Array.from({ length: 8 }, (_, i) => {
    const body = [
      () => box([-6, -4, -3], [random.between(1, 9), 5, 6]),
      () => ellipsoid(random.between(3, 9), random.between(3, 9), random.between(2, 9), 13, 17),
      () => torus(random.between(6, 9), random.between(1, 3), 29, 11),
    ][i % 3]();
    const axis: Vec3 = [0.48, 0.6, 0.64];
    const angle = random.between(0, 3);
    const positions = new Float32Array(body.positions.length);
    for (let k = 0; k < positions.length; k += 3) {
      positions.set(rotateAbout([...body.positions.subarray(k, k + 3)] as unknown as Vec3, axis, angle), k);
    }
    const place: Vec3 = [30 * (i % 4), 30 * Math.floor(i / 4), random.between(15, 40)];
    return moved({ positions, triangles: body.triangles }, place);
  });
  return together(...made);
}

/** The same by looking at all vertices for every candidate, and at all triangles for every vertex. */
function slowly(
  { positions: p, triangles }: TriangleMesh,
  { columns, rows, cell, origin, low, lowTriangle }: ColumnRaster,
  candidates: readonly number[],
  leans: Float32Array,
  slope: number,
  floor: number,
): number[] {
  const sinks = (from: number, to: number): boolean => {
    const drop = p[3 * from + 2] - p[3 * to + 2];
    const way = Math.hypot(p[3 * from] - p[3 * to], p[3 * from + 1] - p[3 * to + 1]);
    return drop > 0 && drop >= slope * way;
  };
  const isEnd = Array.from({ length: p.length / 3 }, () => true);
  for (let t = 0; t < triangles.length; t += 3) {
    for (const [from, to] of [
      [0, 1],
      [1, 2],
      [2, 0],
    ]) {
      if (sinks(triangles[t + from], triangles[t + to])) isEnd[triangles[t + from]] = false;
      if (sinks(triangles[t + to], triangles[t + from])) isEnd[triangles[t + to]] = false;
    }
  }
  const found: number[] = [];
  for (let k = 0; k < candidates.length; k += 2) {
    const [at, i] = [candidates[k], candidates[k + 1]];
    const corners = [...triangles.subarray(3 * lowTriangle[i], 3 * lowTriangle[i] + 3)];
    const lowest = corners.reduce((a, b) => (p[3 * b + 2] < p[3 * a + 2] ? b : a));
    const begins = isEnd.some((ends, vertex) => {
      const z = p[3 * vertex + 2];
      if (!ends || z <= floor) return false;
      if (vertex === lowest) return true;
      const column = Math.min(columns - 1, Math.floor((p[3 * vertex] - origin[0]) / cell));
      const row = Math.min(rows - 1, Math.floor((p[3 * vertex + 1] - origin[1]) / cell));
      const isBeside =
        Math.abs(column - (at % columns)) <= 1 && Math.abs(row - Math.floor(at / columns)) <= 1;
      return isBeside && z <= low[i] + 1e-3 && z >= low[i] - 2 * sinkOf(cell, leans[i]);
    });
    if (begins) found.push(at, i);
  }
  return found;
}

describe(`where a surface begins, seed ${seed}`, () => {
  it("is found as by looking at all vertices for every cell", () => {
    const random = new Random(seed);
    for (let round = 0; round < 4; round++) {
      const mesh = bodies(random);
      const cell = random.between(0.6, 2.5);
      const raster = columnRaster(mesh, cell);
      const candidates: number[] = [];
      for (let at = 0; at < raster.columns * raster.rows; at++) {
        for (let i = raster.first[at]; i < raster.first[at + 1]; i++) candidates.push(at, i);
      }
      const leans = Float32Array.from(raster.low, () => random.between(0.3, 1));
      for (const slope of [0.02, 0.5]) {
        const expected = slowly(mesh, raster, candidates, leans, slope, 16);
        expect(expected.length).toBeGreaterThan(20);
        expect(expected.length).toBeLessThan(candidates.length);
        const found = whatBegins(mesh, raster, candidates, leans, slope, 16);
        expect(found, `seed ${seed}, round ${round}, cell ${cell}, slope ${slope}`).toEqual(expected);
      }
    }
  });
});

describe("the edges of vertices", () => {
  it("of a closed mesh run from each vertex to all its neighbours, each once", () => {
    const { positions, triangles } = torus(10, 3, 12, 7);
    const { first, ends } = edgesOfVertices(triangles, positions.length / 3);
    const neighbours = Array.from({ length: positions.length / 3 }, () => new Set<number>());
    for (let t = 0; t < triangles.length; t += 3) {
      for (let side = 0; side < 3; side++) {
        const [a, b] = [triangles[t + side], triangles[t + ((side + 1) % 3)]];
        neighbours[a].add(b);
        neighbours[b].add(a);
      }
    }
    neighbours.forEach((expected, vertex) => {
      const found = [...ends.subarray(first[vertex], first[vertex + 1])].sort((a, b) => a - b);
      expect(found).toEqual([...expected].sort((a, b) => a - b));
    });
  });
});
