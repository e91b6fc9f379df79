import { describe, expect, test } from "vitest";
import { Random } from "../../../src/design/random";
import { writeStl } from "../../../src/export/stl";
import { auditStl } from "../../../src/export/stlAudit";
import { separateCoincidentVertices } from "../../../src/geometry/solid/distinctVertices";
import { cube, moved, together } from "./shapes";

/** Exact bits of each vertex, −0 as it is. */
const patterns = (positions: Float32Array): string[] => {
  const bits = new Int32Array(positions.buffer, positions.byteOffset, positions.length);
  return Array.from({ length: positions.length / 3 }, (_, i) => bits.subarray(3 * i, 3 * i + 3).join(" "));
};

const distinct = (positions: Float32Array) => new Set(patterns(positions)).size === positions.length / 3;

test("vertices in one place are moved by the least step there is", () => {
  const positions = Float32Array.from([1.5, -2.25, 70, 4, 5, 6, 1.5, -2.25, 70, 1.5, -2.25, 70]);
  expect(separateCoincidentVertices(positions)).toBe(2);
  expect(distinct(positions)).toBe(true);
  expect([...positions.subarray(0, 6)]).toEqual([1.5, -2.25, 70, 4, 5, 6]);
  for (const vertex of [2, 3]) {
    for (const [axis, was] of [1.5, -2.25, 70].entries()) {
      // Neighbouring 32-bit numbers below 128 differ by at most 2⁻¹⁷ (IEEE 754 binary32: 24 bits of significand).
      expect(Math.abs(positions[3 * vertex + axis] - was)).toBeLessThanOrEqual(2 * 2 ** -17);
    }
  }
});

test("−0 is the same place as 0", () => {
  const positions = Float32Array.from([0, 1, 0, -0, 1, -0]);
  expect(separateCoincidentVertices(positions)).toBe(1);
  expect(positions.some((value) => Object.is(value, -0))).toBe(false);
  expect(
    positions[0] === positions[3] && positions[1] === positions[4] && positions[2] === positions[5],
  ).toBe(false);
});

test("distinct vertices stay as they are", () => {
  const random = new Random(7);
  const positions = Float32Array.from({ length: 30_000 }, () => random.between(-150, 150));
  const before = positions.slice();
  expect(separateCoincidentVertices(positions)).toBe(0);
  expect(positions).toEqual(before);
});

test("a vertex is not moved on to another one", () => {
  // The neighbours in x, y and z of the doubled place are taken.
  const next = (value: number) => {
    const one = Float32Array.of(value);
    new Int32Array(one.buffer)[0]++;
    return one[0];
  };
  const [x, y, z] = [10, 20, 30];
  const places = [
    [x, y, z],
    [next(x), y, z],
    [next(x), next(y), z],
    [next(x), next(y), next(z)],
    [x, y, z],
  ];
  const positions = Float32Array.from(places.flat());
  expect(separateCoincidentVertices(positions)).toBe(1);
  expect(distinct(positions)).toBe(true);
});

test("many in one place, and in the origin", () => {
  for (const place of [
    [0, 0, 0],
    [12, -7, 3],
    [0, 0, 90],
  ]) {
    const positions = Float32Array.from(Array.from({ length: 500 }, () => place).flat());
    expect(separateCoincidentVertices(positions)).toBe(499);
    expect(distinct(positions)).toBe(true);
    for (let i = 0; i < positions.length; i++)
      expect(Math.abs(positions[i] - place[i % 3])).toBeLessThan(5e-3);
  }
});

describe("the file", () => {
  /** Two boxes that share an edge's two corners in place, not in index: an edge with four triangles once welded. */
  const pinched = () => {
    const mesh = together(cube([0, 0, 0], 10), cube([10, 10, 0], 10));
    return { ...mesh, positions: mesh.positions.slice() };
  };

  test("of coincident vertices is pinched, and closed once they are apart", () => {
    const mesh = pinched();
    expect(auditStl(writeStl(mesh)).overSharedEdges).toBe(1);
    expect(separateCoincidentVertices(mesh.positions)).toBe(2);
    expect(auditStl(writeStl(mesh))).toMatchObject({ closed: true, pieces: 2 });
  });

  test("closed also where the shared edge crosses 0 and −0", () => {
    const mesh = pinched();
    const shifted = moved(mesh, ([x, y, z]) => [x - 5, y - 5, z]);
    for (let i = 0; i < shifted.positions.length / 2; i++) {
      if (shifted.positions[i] === 0) shifted.positions[i] = -0;
    }
    separateCoincidentVertices(shifted.positions);
    expect(auditStl(writeStl(shifted))).toMatchObject({ closed: true, pieces: 2 });
  });
});
