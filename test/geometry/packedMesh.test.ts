import { expect, test } from "vitest";
import type { PartMesh } from "../../src/geometry/mesh";
import { isPackedMesh, packMesh, unpackMesh } from "../../src/geometry/packedMesh";

/** A strip of triangles over a grid that is wider than high, each part some triangles long. */
function strip(triangles: number, perPart: number): PartMesh {
  const positions = new Float32Array(3 * (triangles + 2));
  for (let i = 0; i < triangles + 2; i++) {
    positions.set([-140 + (i % 97) * 2.9, Math.sin(i) * 3, 55 + ((i * 7919) % 1000) / 4], 3 * i);
  }
  const indices = Uint32Array.from({ length: 3 * triangles }, (_, i) => Math.floor(i / 3) + (i % 3));
  const partOfTriangle = Int32Array.from({ length: triangles }, (_, t) => Math.floor(t / perPart) - 1);
  return { positions, triangles: indices, partOfTriangle };
}

/** The greatest distance along an axis between two lists of places. */
const worst = (one: Float32Array, other: Float32Array) =>
  one.reduce((most, value, i) => Math.max(most, Math.abs(value - other[i])), 0);

test.each([
  ["few vertices", strip(1001, 40), 6],
  ["the most that 16 bits name", strip(0x10000 - 2, 700), 6],
  ["one more", strip(0x10000 - 1, 700), 12],
])("a mesh of %s comes back, right to 3 µm", (_, mesh, bytesPerTriangle) => {
  const packed = packMesh(mesh);
  const back = unpackMesh(packed);
  expect(back.triangles).toEqual(mesh.triangles);
  expect(back.partOfTriangle).toEqual(mesh.partOfTriangle);
  // Half a step of 278 mm, and the rounding of a 32-bit float.
  expect(worst(back.positions, mesh.positions)).toBeLessThan((0.5 * 278.4) / 65535 + 2e-5);
  const { length } = mesh.partOfTriangle;
  expect(packed.byteLength).toBeLessThan(60 + 6 * (length + 2) + bytesPerTriangle * length + length / 4);
});

test("nothing, a single place and a flat mesh come back as they are", () => {
  const none = {
    positions: new Float32Array(),
    triangles: new Uint32Array(),
    partOfTriangle: new Int32Array(),
  };
  expect(unpackMesh(packMesh(none))).toEqual(none);
  const flat = {
    positions: Float32Array.of(5, -2, 7, 5, 3, 7, 5, 3, 7),
    triangles: Uint32Array.of(0, 1, 2),
    partOfTriangle: Int32Array.of(-1),
  };
  expect(unpackMesh(packMesh(flat))).toEqual(flat);
});

test("bytes that begin anywhere in a larger buffer are read", () => {
  const mesh = strip(10, 3);
  const packed = packMesh(mesh);
  const larger = new Uint8Array(packed.byteLength + 9);
  larger.set(packed, 5);
  const window = larger.subarray(5, 5 + packed.byteLength);
  expect(unpackMesh(window)).toEqual(unpackMesh(packed));
});

test("other bytes are refused", () => {
  const packed = packMesh(strip(10, 3));
  expect(isPackedMesh(packed)).toBe(true);
  const others = [
    new Uint8Array(),
    packed.subarray(0, 39),
    packed.subarray(0, packed.byteLength - 1),
    packed.map((b) => b ^ 1),
  ];
  for (const bytes of others) {
    expect(isPackedMesh(bytes)).toBe(false);
    expect(() => unpackMesh(bytes)).toThrow(RangeError);
  }
  const short = packed.slice();
  // The first run, one triangle shorter.
  new DataView(short.buffer).setInt32(packed.byteLength - 8 * 4, 2, true);
  expect(() => unpackMesh(short)).toThrow("names a part for 9 of 10 triangles");
});
