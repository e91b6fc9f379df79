import fc from "fast-check";
import { STLLoader } from "three/examples/jsm/loaders/STLLoader.js";
import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { readStl, stlHeaderText, writeStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import { serializeStl } from "../../src/export/stlInterchange";
import { box, ellipsoid, insideOut, meshOf, moved, together, torus } from "../checks/shapes";

const cube = box([0, 0, 0], [10, 10, 10]);

/** The cube's STL with one triangle's corners changed: corner k of triangle t becomes (x, y, z). */
function withCorner(
  bytes: Uint8Array,
  triangle: number,
  corner: number,
  point: readonly number[],
): Uint8Array {
  const copy = bytes.slice();
  const view = new DataView(copy.buffer);
  point.forEach((value, axis) => {
    view.setFloat32(84 + 50 * triangle + 12 + 12 * corner + 4 * axis, value, true);
  });
  return copy;
}

describe("writeStl", () => {
  it("writes the layout of the format: header, count, 50 bytes a triangle", () => {
    const bytes = writeStl(cube, "Coral crown");
    expect(bytes.length).toBe(84 + 50 * 12);
    expect(stlHeaderText(bytes)).toBe("STL of Coral crown, units millimetres, made with anadem");
    expect(new DataView(bytes.buffer).getUint32(80, true)).toBe(12);
  });

  it("never begins with the word that marks text, and keeps long and foreign names within 80 bytes", () => {
    for (const name of [
      "solid",
      "",
      "Krone für die Königin der Gezeiten, aus Korallen gebaut, für den zweiten Akt",
      "王冠",
    ]) {
      const bytes = writeStl(cube, name);
      expect(String.fromCharCode(...bytes.subarray(0, 5))).not.toBe("solid");
      expect(stlHeaderText(bytes)).toContain("units millimetres");
      expect(bytes.subarray(0, 80).every((byte) => byte >= 0x20 && byte < 0x7f)).toBe(true);
    }
  });

  it("is read back by another library with outward unit normals", () => {
    const mesh = ellipsoid(100, 77, 120, 40, 60);
    const bytes = writeStl(mesh);
    const geometry = new STLLoader().parse(bytes.buffer as ArrayBuffer);
    const corners = geometry.getAttribute("position").array;
    const normals = geometry.getAttribute("normal").array;
    expect(corners.length).toBe(3 * mesh.triangles.length);
    for (let i = 0; i < corners.length; i += 3) {
      expect(
        corners[i] * normals[i] + corners[i + 1] * normals[i + 1] + corners[i + 2] * normals[i + 2],
      ).toBeGreaterThan(0);
      expect(Math.hypot(normals[i], normals[i + 1], normals[i + 2])).toBeCloseTo(1, 5);
    }
  });

  it("gives the same bytes twice, and the same mesh back", () => {
    const mesh = torus(80, 5, 60, 24);
    const bytes = writeStl(mesh, "ring");
    expect(Buffer.compare(writeStl(torus(80, 5, 60, 24), "ring"), bytes)).toBe(0);
    const back = readStl(bytes);
    expect(back.positions.length).toBe(mesh.positions.length);
    expect(massProperties(back).volume).toBeCloseTo(massProperties(mesh).volume, 6);
    expect(Buffer.compare(writeStl(back, "ring"), bytes)).toBe(0);
  });

  it("takes minus zero for zero", () => {
    const mesh = { positions: cube.positions.map((v) => (v === 0 ? -0 : v)), triangles: cube.triangles };
    expect(Buffer.compare(writeStl(mesh), writeStl(cube))).toBe(0);
    const mixed = withCorner(writeStl(cube), 0, 0, [-0, 0, -0]);
    expect(auditStl(mixed).closed).toBe(true);
  });

  it("refuses a coordinate that is no number and a missing vertex", () => {
    expect(() =>
      writeStl({ ...cube, positions: cube.positions.map((v, i) => (i === 4 ? Number.NaN : v)) }),
    ).toThrow(/not a finite number/);
    expect(() => writeStl({ ...cube, triangles: Uint32Array.of(0, 1, 99) })).toThrow(/missing vertex/);
  });
});

describe("readStl", () => {
  it("refuses bytes that are not a whole binary STL", () => {
    expect(() => readStl(new Uint8Array(10))).toThrow(/10 bytes/);
    expect(() => readStl(writeStl(cube).slice(0, 300))).toThrow(/states 12 triangles, which take 684 bytes/);
    expect(() => readStl(new TextEncoder().encode(`solid x${" ".repeat(200)}endsolid`))).toThrow(/as text/);
  });
});

describe("auditStl", () => {
  it("passes a cube", () => {
    expect(auditStl(writeStl(cube))).toEqual({
      closed: true,
      triangles: 12,
      vertices: 8,
      pieces: 1,
      voids: 0,
      insideOut: 0,
      openEdges: 0,
      overSharedEdges: 0,
      misorientedEdges: 0,
      degenerateTriangles: 0,
      volumeMm3: 1000,
    });
  });

  it("counts pieces apart, voids within, and bodies inside out", () => {
    const inner = insideOut(box([2, 2, 2], [3, 3, 3]));
    const apart = auditStl(writeStl(together(cube, moved(cube, [20, 0, 0]), inner)));
    expect([apart.closed, apart.pieces, apart.voids, apart.insideOut]).toEqual([true, 2, 1, 0]);
    expect(apart.volumeMm3).toBeCloseTo(1999, 6);
    const reversed = auditStl(writeStl(together(cube, insideOut(moved(cube, [20, 0, 0])))));
    expect([reversed.pieces, reversed.voids, reversed.insideOut]).toEqual([1, 0, 1]);
  });

  it("tells bodies that touch in one corner apart, and sees the edge that two share", () => {
    const atCorner = auditStl(writeStl(together(cube, moved(cube, [10, 10, 10]))));
    expect([atCorner.closed, atCorner.pieces, atCorner.vertices]).toEqual([true, 2, 15]);
    const alongEdge = auditStl(writeStl(together(cube, moved(cube, [10, 10, 0]))));
    expect([alongEdge.closed, alongEdge.overSharedEdges]).toEqual([false, 1]);
  });

  it("finds what a hole, a turned triangle, a crack and a flattened triangle break", () => {
    const hole = auditStl(writeStl({ ...cube, triangles: cube.triangles.slice(3) }));
    expect([hole.closed, hole.openEdges]).toEqual([false, 3]);
    const turned = cube.triangles.slice();
    [turned[0], turned[1]] = [turned[1], turned[0]];
    const flipped = auditStl(writeStl({ ...cube, triangles: turned }));
    expect([flipped.closed, flipped.misorientedEdges, flipped.openEdges]).toEqual([false, 3, 0]);
    // One unit in the last place is a crack.
    const crack = auditStl(withCorner(writeStl(cube), 0, 1, [10, 10.000001, 0]));
    expect(crack.closed).toBe(false);
    expect(crack.openEdges).toBeGreaterThan(0);
    const flat = auditStl(withCorner(writeStl(cube), 0, 0, [10, 10, 0]));
    expect([flat.closed, flat.degenerateTriangles]).toEqual([false, 1]);
  });

  it("calls an empty file not closed", () => {
    expect(auditStl(writeStl(meshOf([], [])))).toMatchObject({ closed: false, triangles: 0, pieces: 0 });
  });

  it("agrees with a slow count over random damage", () => {
    const base = ellipsoid(30, 20, 10, 6, 8);
    fc.assert(
      fc.property(fc.array(fc.nat(base.triangles.length - 1), { maxLength: 6 }), fc.nat(40), (hits, to) => {
        const triangles = base.triangles.slice();
        for (const hit of hits) triangles[hit] = to;
        const mesh = { positions: base.positions, triangles };
        expect(auditStl(writeStl(mesh)).closed).toBe(slowlyClosed(mesh.triangles));
      }),
      { seed: 11, numRuns: 200 },
    );
  });

  it("judges 136,000 triangles in a fraction of a second", () => {
    const bytes = writeStl(torus(80, 20, 680, 100));
    auditStl(bytes);
    const start = performance.now();
    expect(auditStl(bytes)).toMatchObject({ closed: true, triangles: 136_000, pieces: 1 });
    expect(performance.now() - start).toBeLessThan(2000);
  });
});

describe("the second writer", () => {
  it("agrees with the first on bodies that its grid does not flatten", () => {
    const mesh = torus(80, 5, 90, 24);
    const first = auditStl(writeStl(mesh));
    const second = auditStl(serializeStl(mesh));
    expect(second).toMatchObject({ closed: true, triangles: first.triangles, pieces: 1 });
    expect(second.volumeMm3 / first.volumeMm3).toBeCloseTo(1, 5);
  });
});

function slowlyClosed(triangles: Uint32Array): boolean {
  const runs = new Map<string, number>();
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    if (a === b || b === c || c === a) return false;
    for (const key of [`${a} ${b}`, `${b} ${c}`, `${c} ${a}`]) runs.set(key, (runs.get(key) ?? 0) + 1);
  }
  return [...runs].every(([key, n]) => n === 1 && runs.get(key.split(" ").reverse().join(" ")) === 1);
}
