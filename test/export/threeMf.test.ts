import fc from "fast-check";
import { type BufferGeometry, type Group, type Mesh, Vector3 } from "three";
import { unzipSync } from "three/examples/jsm/libs/fflate.module.js";
import { describe, expect, it } from "vitest";
import { massProperties } from "../../src/checks/massProperties";
import { DecimalText } from "../../src/export/decimalText";
import { readStl, writeStl } from "../../src/export/stl";
import { auditStl } from "../../src/export/stlAudit";
import { threeMf } from "../../src/export/threeMf";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { placedPiece } from "../../src/print/placedPiece";
import { box, ellipsoid, meshOf, torus } from "../checks/shapes";
import { attributesOf, childrenOf, parsedXml, readByThree } from "./threeMfReading";

const crown = torus(80, 5, 48, 16);
const plate = { shape: "rectangular", width: 220, depth: 220 } as const;

/** Degrees to the hundredth, evenly spread. */
const degrees = (least: number, most: number) =>
  fc.integer({ min: 100 * least, max: 100 * most }).map((hundredths) => hundredths / 100);

/** The parts of the package as text, by another unpacker than the one that packed it. */
function partsOf(bytes: Uint8Array): Record<string, string> {
  return Object.fromEntries(
    Object.entries(unzipSync(bytes)).map(([name, part]) => [
      name,
      new TextDecoder().decode(part as Uint8Array),
    ]),
  );
}

const modelOf = (bytes: Uint8Array) => parsedXml(partsOf(bytes)["3D/3dmodel.model"]).documentElement!;

/** The bodies that three's loader finds, each with its placement applied. */
function bodiesOf(group: Group): { name: string; mesh: TriangleMesh; placed: TriangleMesh }[] {
  group.updateMatrixWorld(true);
  const bodies: { name: string; mesh: TriangleMesh; placed: TriangleMesh }[] = [];
  group.traverse((node) => {
    const { geometry } = node as Mesh<BufferGeometry>;
    if (geometry === undefined) return;
    const positions = geometry.getAttribute("position").array as Float32Array;
    const triangles = Uint32Array.from(geometry.getIndex()!.array);
    const there = positions.slice();
    for (let i = 0; i < there.length; i += 3) {
      new Vector3().fromArray(positions, i).applyMatrix4(node.matrixWorld).toArray(there, i);
    }
    bodies.push({
      name: node.name || (node.parent?.name ?? ""),
      mesh: { positions, triangles },
      placed: { positions: there, triangles },
    });
  });
  return bodies;
}

describe("threeMf, read back by three", () => {
  it("has every body with its name, triangles, volume, closed as in the STL", () => {
    const objects = [
      { name: "front half", mesh: crown },
      { name: "back half", mesh: ellipsoid(30, 20, 40, 16, 24) },
    ];
    const bodies = bodiesOf(readByThree(threeMf(objects, { title: "Coral crown" })));
    expect(bodies.map(({ name }) => name)).toEqual(["front half", "back half"]);
    bodies.forEach(({ mesh, placed }, i) => {
      expect(mesh.triangles).toEqual(objects[i].mesh.triangles);
      expect(massProperties(placed).volume).toBeCloseTo(massProperties(objects[i].mesh).volume, 6);
      const audit = auditStl(writeStl(mesh));
      expect([audit.closed, audit.pieces, audit.voids]).toEqual([true, 1, 0]);
    });
  });

  it("has the very 32-bit coordinates of the STL (seed 416)", () => {
    const seed = 416;
    fc.assert(
      fc.property(
        fc.record({
          tilt: degrees(0, 180),
          towards: degrees(-180, 180),
          turn: degrees(0, 360),
        }),
        (orientation) => {
          const part = { ...crown, partOfTriangle: new Int32Array(crown.triangles.length / 3) };
          const { mesh } = placedPiece(part, orientation, plate);
          const [body] = bodiesOf(readByThree(threeMf([{ name: "crown", mesh }], { title: "crown" })));
          const stl = readStl(writeStl(mesh));
          const corners = ({ positions, triangles }: TriangleMesh) =>
            Array.from(triangles).flatMap((vertex) => [...positions.subarray(3 * vertex, 3 * vertex + 3)]);
          expect(corners(body.mesh)).toEqual(corners(stl));
        },
      ),
      { seed, numRuns: 10 },
    );
  });

  it("puts a body where its placement says, as often as it says", () => {
    // A quarter turn about z takes x to y and y to −x; then 110 and 100 along x and y.
    const places = [
      { rotation: [0, -1, 0, 1, 0, 0, 0, 0, 1], shift: [110, 100, 0] as const },
      { shift: [5, 6, 7.5] as const },
    ];
    const bytes = threeMf([{ name: "foot", mesh: box([1, 2, 0], [11, 5, 4]), places }], { title: "feet" });
    const boxes = bodiesOf(readByThree(bytes)).map(({ placed }) => massProperties(placed).box);
    expect(boxes).toEqual([
      { least: [105, 101, 0], most: [108, 111, 4] },
      { least: [6, 8, 7.5], most: [16, 11, 11.5] },
    ]);
  });
});

describe("threeMf as the specification has it", () => {
  const bytes = threeMf(
    [
      { name: 'reed & "rush" <3>', mesh: crown },
      { name: "Krone 王冠", mesh: box([0, 0, 0], [1, 2, 3]) },
    ],
    {
      title: "The Tide Court, act 2 & 3",
      description: "Two plates",
    },
  );
  const parts = partsOf(bytes);

  // Open Packaging Conventions (ECMA-376 part 2) and 3MF core specification 1.3, section 2.
  it("is a package with content types, a relationship to the model, and the model", () => {
    expect(Object.keys(parts)).toEqual(["[Content_Types].xml", "_rels/.rels", "3D/3dmodel.model"]);
    const types = childrenOf(parsedXml(parts["[Content_Types].xml"]).documentElement!).map(attributesOf);
    expect(types).toContainEqual({
      Extension: "model",
      ContentType: "application/vnd.ms-package.3dmanufacturing-3dmodel+xml",
    });
    const [relationship] = childrenOf(parsedXml(parts["_rels/.rels"]).documentElement!).map(attributesOf);
    expect(relationship.Target).toBe("/3D/3dmodel.model");
    expect(relationship.Type).toBe("http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel");
  });

  it("states the unit, the title and the names, escaped", () => {
    const model = modelOf(bytes);
    expect(model.getAttribute("unit")).toBe("millimeter");
    expect(model.namespaceURI).toBe("http://schemas.microsoft.com/3dmanufacturing/core/2015/02");
    const metadata = [...model.getElementsByTagName("metadata")].map((one) => [
      one.getAttribute("name"),
      one.textContent,
    ]);
    expect(metadata).toEqual([
      ["Title", "The Tide Court, act 2 & 3"],
      ["Description", "Two plates"],
      ["Application", "anadem"],
    ]);
    const objects = [...model.getElementsByTagName("object")].map(attributesOf);
    expect(objects.map(({ name, type }) => [name, type])).toEqual([
      ['reed & "rush" <3>', "model"],
      ["Krone 王冠", "model"],
    ]);
    const items = [...model.getElementsByTagName("item")].map((one) => one.getAttribute("objectid"));
    expect(items).toEqual(objects.map(({ id }) => id));
  });

  it("says nothing of when or where it was made: the same bytes again, in every time zone", () => {
    const zone = process.env.TZ;
    try {
      for (const TZ of ["Pacific/Kiritimati", "America/Los_Angeles", "UTC"]) {
        process.env.TZ = TZ;
        const again = threeMf(
          [
            { name: 'reed & "rush" <3>', mesh: crown },
            { name: "Krone 王冠", mesh: box([0, 0, 0], [1, 2, 3]) },
          ],
          { title: "The Tide Court, act 2 & 3", description: "Two plates" },
        );
        expect(again).toEqual(bytes);
      }
    } finally {
      if (zone === undefined) delete process.env.TZ;
      else process.env.TZ = zone;
    }
  });

  it("moves vertices apart that coincide, so that it is closed however it is read", () => {
    // Two tetrahedra that touch in a corner, each with a vertex of its own there.
    const one = [0, 0, 0, 10, 0, 0, 0, 10, 0, 0, 0, 10];
    const other = [0, 0, 0, -10, 0, 0, 0, -10, 0, 0, 0, -10];
    const faces = [0, 2, 1, 0, 1, 3, 0, 3, 2, 1, 2, 3];
    const mirrored = [4, 5, 6, 4, 7, 5, 4, 6, 7, 5, 7, 6];
    const mesh = {
      positions: Float32Array.from([...one, ...other]),
      triangles: Uint32Array.from([...faces, ...mirrored]),
    };
    const [body] = bodiesOf(readByThree(threeMf([{ name: "two", mesh }], { title: "two" })));
    const places = new Set(
      Array.from({ length: 8 }, (_, i) => body.mesh.positions.subarray(3 * i, 3 * i + 3).join()),
    );
    expect(places.size).toBe(8);
    expect(mesh.positions[12]).toBe(0);
  });

  it("refuses what is no body, and says why", () => {
    const one =
      (mesh: TriangleMesh, more = {}) =>
      () =>
        threeMf([{ name: "x", mesh, ...more }], { title: "x" });
    const cube = box([0, 0, 0], [1, 1, 1]);
    expect(() => threeMf([], { title: "x" })).toThrow(/at least one object/);
    expect(one(meshOf([], []))).toThrow(/no triangles/);
    expect(one({ ...cube, triangles: Uint32Array.of(0, 1, 8) })).toThrow(/uses vertex 8: the mesh has 8/);
    expect(one({ ...cube, triangles: Uint32Array.of(0, 1, 1) })).toThrow(/a corner twice/);
    expect(one({ ...cube, positions: cube.positions.map((v, i) => (i === 4 ? Number.NaN : v)) })).toThrow(
      /y of vertex 1 is NaN/,
    );
    expect(one(cube, { places: [{ shift: [0, Infinity, 0] }] })).toThrow(/finite numbers/);
    expect(one(cube, { places: [{ rotation: [1, 0] }] })).toThrow(/nine/);
  });
});

describe("decimals", () => {
  const written = (value: number): string => {
    const text = new DecimalText();
    text.float(value);
    return new TextDecoder().decode(text.bytes());
  };

  it("are short where they can be", () => {
    const short = [0, -0, 1, -1, 0.1, 12.5, -99.99, 100, 0.03125, 123_456].map((value) =>
      written(Math.fround(value)),
    );
    expect(short).toEqual(["0", "0", "1", "-1", "0.1", "12.5", "-99.99", "100", "0.03125", "123456"]);
  });

  it("round back to every 32-bit float, by no more places than the slow way needs (seed 7041)", () => {
    const seed = 7_041;
    fc.assert(
      fc.property(fc.float({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(Math.fround(Number(written(value)))).toBe(value + 0);
      }),
      { seed, numRuns: 3000 },
    );
    fc.assert(
      fc.property(
        fc
          .integer({ min: -400_000_000, max: 400_000_000 })
          .map((millionths) => Math.fround(millionths / 1e6)),
        (value) => {
          const text = written(value);
          if (Math.abs(value) < 1 / 64) return;
          const places = text.split(".")[1]?.length ?? 0;
          const slow = Array.from({ length: 12 }, (_, i) => i).find(
            (count) => Math.fround(Number(value.toFixed(count))) === value,
          );
          expect(Math.fround(Number(text))).toBe(value);
          expect(places).toBe(slow);
        },
      ),
      { seed: seed + 1, numRuns: 3000 },
    );
  });

  it("fit the number of the specification (ST_Number)", () => {
    const number = /^[-+]?(\d+(\.\d+)?|\.\d+)([eE][-+]?\d+)?$/;
    for (const value of [1e-45, -3.4e38, 1e6, 999_999.94, 1 / 64, 0.0155, 1e-6, -1e-6]) {
      expect(written(Math.fround(value))).toMatch(number);
      expect(Math.fround(Number(written(Math.fround(value))))).toBe(Math.fround(value));
    }
  });
});
