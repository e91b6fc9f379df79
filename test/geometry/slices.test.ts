import { describe, expect, it } from "vitest";
import { loopArea, loopLength } from "../../src/geometry/loops";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { type Loop, sliceLoops, sliceMeasures } from "../../src/geometry/slices";
import { box, insideOut, meshOf, moved, together, torus, turned } from "../checks/shapes";

const sum = (loops: readonly Loop[], of: (loop: Loop) => number) =>
  loops.reduce((total, loop) => total + of(loop), 0);

/** Both ways of slicing must agree; gives areas and lengths of outline. */
function measured(mesh: TriangleMesh, heights: readonly number[]) {
  const { area, perimeter } = sliceMeasures(mesh, heights);
  sliceLoops(mesh, heights).forEach((loops, i) => {
    expect(sum(loops, loopArea), `area at ${heights[i]}`).toBeCloseTo(area[i], 8);
    expect(sum(loops, loopLength), `outline at ${heights[i]}`).toBeCloseTo(perimeter[i], 8);
  });
  return { area: [...area], perimeter: [...perimeter] };
}

describe("slices in closed form", () => {
  it("of a box are its floor", () => {
    const { area, perimeter } = measured(box([1, 2, 0], [41, 32, 20]), [0.1, 7, 19.9]);
    for (const value of area) expect(value).toBeCloseTo(40 * 30, 9);
    for (const value of perimeter) expect(value).toBeCloseTo(2 * (40 + 30), 9);
  });

  it("of a cone shrink with the square of what is left of its height", () => {
    const n = 48;
    const cone = turned(
      [
        [0, 0],
        [20, 0],
        [0, 40],
      ],
      n,
    );
    const heights = [0.001, 10, 20, 30, 39.9];
    const { area, perimeter } = measured(cone, heights);
    heights.forEach((z, i) => {
      const r = 20 * (1 - z / 40);
      // Regular n-gon in a circle of radius r.
      expect(area[i]).toBeCloseTo((n / 2) * r * r * Math.sin((2 * Math.PI) / n), 3);
      expect(perimeter[i]).toBeCloseTo(2 * n * r * Math.sin(Math.PI / n), 3);
    });
  });

  it("of a lying ring are two rings or one, with their holes", () => {
    const [R, r, around, segments] = [40, 10, 96, 64];
    const ring = torus(R, r, around, segments);
    const { area } = measured(ring, [0.01, 4.99]);
    const loops = sliceLoops(ring, [0.01])[0];
    expect(loops.map((loop) => Math.sign(loopArea(loop))).sort()).toEqual([-1, 1]);
    // Ring between R ± √(r² − z²), as polygons of 96 sides; the section's own polygon has 64.
    const share = (around / (2 * Math.PI)) * Math.sin((2 * Math.PI) / around);
    [0.01, 4.99].forEach((z, i) => {
      const half = Math.sqrt(r * r - z * z);
      const whole = share * Math.PI * ((R + half) ** 2 - (R - half) ** 2);
      expect(area[i] / whole).toBeGreaterThan(0.995);
      expect(area[i] / whole).toBeLessThanOrEqual(1.0001);
    });
  });

  it("of a standing ring are two, without holes", () => {
    const lying = torus(40, 10, 96, 64);
    const standing: TriangleMesh = {
      positions: lying.positions.map((_, i) => lying.positions[i - (i % 3) + ((i + 1) % 3)]),
      triangles: lying.triangles,
    };
    const loops = sliceLoops(standing, [0.01])[0];
    expect(loops.map((loop) => Math.sign(loopArea(loop)))).toEqual([1, 1]);
  });

  it("of a shell take its inside off", () => {
    const hollow = together(box([0, 0, 0], [20, 20, 20]), insideOut(box([5, 5, 5], [15, 15, 15])));
    const { area, perimeter } = measured(hollow, [1, 10, 19]);
    [400, 300, 400].forEach((value, i) => {
      expect(area[i]).toBeCloseTo(value, 9);
    });
    [80, 120, 80].forEach((value, i) => {
      expect(perimeter[i]).toBeCloseTo(value, 9);
    });
  });

  it("keep their digits far from the origin", () => {
    const far = moved(box([0, 0, 0], [4, 4, 4]), [4000, 4000, 0]);
    expect(sliceMeasures(far, [2]).area[0]).toBeCloseTo(16, 9);
  });
});

describe("vertices at the height itself", () => {
  const octahedron = meshOf(
    [
      [10, 0, 0],
      [0, 10, 0],
      [-10, 0, 0],
      [0, -10, 0],
      [0, 0, 10],
      [0, 0, -10],
    ],
    [
      [0, 1, 4],
      [1, 2, 4],
      [2, 3, 4],
      [3, 0, 4],
      [1, 0, 5],
      [2, 1, 5],
      [3, 2, 5],
      [0, 3, 5],
    ],
  );

  it("count as just above: outlines close, at tips, edges and level faces", () => {
    const { area } = measured(octahedron, [-10, 0, 10]);
    // A tip at the height is above it, so it is not cut from below; nor is anything over the upper one.
    expect(area[0]).toBe(0);
    expect(area[1]).toBeCloseTo(200, 9);
    expect(area[2]).toBeCloseTo(0, 9);
    const cube = measured(box([0, 0, 0], [10, 10, 10]), [0, 10]);
    // A floor at the height is above it, a roof too.
    expect(cube.area).toEqual([0, 100]);
  });

  it("of level faces half way up: the slice is that below", () => {
    const stepped = together(box([0, 0, 0], [20, 20, 5]), box([0, 0, 5], [10, 10, 10]));
    expect(measured(stepped, [4, 5, 6]).area).toEqual([400, 400, 100]);
  });
});

describe("what cannot be sliced", () => {
  const cube = box([0, 0, 0], [10, 10, 10]);

  it("is said", () => {
    const open: TriangleMesh = { ...cube, triangles: cube.triangles.slice(0, -3) };
    expect(() => sliceMeasures(open, [5])).toThrow("The mesh is open at height 5 mm");
    expect(() => sliceLoops(open, [5])).toThrow("The mesh is open at height 5 mm");
    const empty: TriangleMesh = { positions: new Float32Array(), triangles: new Uint32Array() };
    expect(() => sliceMeasures(empty, [5])).toThrow("no triangles");
    const lost: TriangleMesh = { ...cube, positions: cube.positions.map((x, i) => (i === 4 ? NaN : x)) };
    expect(() => sliceLoops(lost, [5])).toThrow("Vertex 1 of the mesh lies at (10, NaN, 0)");
    expect(() => sliceMeasures(cube, [5, 5])).toThrow("Height 1 is 5 mm");
    expect(() => sliceMeasures(cube, [NaN])).toThrow(RangeError);
  });
});
