import { primitives } from "@jscad/modeling";
import { serialize } from "@jscad/stl-serializer";
import { STLLoader } from "three/addons/loaders/STLLoader.js";
import { describe, expect, it } from "vitest";
import { writeStl } from "../../src/export/stl";
import { meshVolume } from "../../src/geometry/measure";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { readMeshBytes } from "../../src/geometry/meshFile";
import { readAsciiStl, readBinaryStl } from "../../src/geometry/stlReading";
import { MessageError } from "../../src/message";
import { ellipsoid } from "../checks/shapes";

const text = (lines: string): Uint8Array => new TextEncoder().encode(lines);

function joined(blocks: readonly (ArrayBuffer | string)[]): Uint8Array {
  const parts = blocks.map((block) => (typeof block === "string" ? text(block) : new Uint8Array(block)));
  const bytes = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    bytes.set(part, at);
    at += part.length;
  }
  return bytes;
}

/** The corners of all triangles, nine numbers each, in order. */
const cornersOf = ({ positions, triangles }: TriangleMesh): number[] =>
  [...triangles].flatMap((vertex) => [...positions.subarray(3 * vertex, 3 * vertex + 3)]);

/** What three's reader finds in the same bytes. */
const byLoader = (bytes: Uint8Array): number[] => [
  ...new STLLoader().parse(bytes.slice().buffer).getAttribute("position").array,
];

function messageOf(read: () => unknown) {
  try {
    read();
  } catch (error) {
    if (error instanceof MessageError) return error.messages[0];
    throw error;
  }
  throw new Error("Nothing was refused.");
}

const ball = ellipsoid(30, 40, 50, 24, 32);
const shape = primitives.torus({ innerRadius: 4, outerRadius: 10, innerSegments: 24, outerSegments: 32 });

describe("a binary STL", () => {
  it("comes back from the tool's own writer corner by corner, with its vertices", () => {
    const read = readBinaryStl(writeStl(ball), "ball.stl");
    expect(cornersOf(read)).toEqual(cornersOf(ball));
    expect(read.positions.length).toBe(ball.positions.length);
    // Euler's formula for a closed surface without a hole: V − E + F = 2, with 2 E = 3 F.
    expect(read.positions.length / 3 - read.triangles.length / 6).toBe(2);
  });

  it("is read as three's STLLoader reads it, written by @jscad/stl-serializer", () => {
    const bytes = joined(serialize({ binary: true }, shape));
    const read = readMeshBytes(bytes, "torus.stl");
    expect(cornersOf(read)).toEqual(byLoader(bytes));
    // The torus is closed: V − E + F = 0.
    expect(read.positions.length / 3).toBe(read.triangles.length / 6);
    // Pappus: 2π²·R·r², less what the two polygons of 24 and 32 sides leave out.
    const share = (n: number) => Math.sin((2 * Math.PI) / n) / ((2 * Math.PI) / n);
    expect(meshVolume(read)).toBeCloseTo(2 * Math.PI ** 2 * 10 * 16 * share(24) * share(32), 0);
  });

  it("may begin with the word solid", () => {
    const bytes = writeStl(ball);
    bytes.set(text("solid ball "));
    expect(readMeshBytes(bytes, "ball.stl").triangles.length).toBe(ball.triangles.length);
  });

  it("is read from within a larger buffer", () => {
    const bytes = writeStl(ball);
    const larger = new Uint8Array(bytes.length + 7);
    larger.set(bytes, 3);
    expect(cornersOf(readMeshBytes(larger.subarray(3, 3 + bytes.length), "ball.stl"))).toEqual(
      cornersOf(ball),
    );
  });

  it("takes −0 for 0 when it joins corners", () => {
    const mesh = {
      positions: Float32Array.of(0, 0, 0, 1, 0, 0, 0, 1, 0, -0, -0, 0, 0, 1, -0, -1, 0, 0),
      triangles: Uint32Array.of(0, 1, 2, 3, 4, 5),
    };
    const bytes = writeStl(mesh);
    new DataView(bytes.buffer).setFloat32(84 + 50 + 12, -0, true);
    expect(readBinaryStl(bytes, "a.stl").positions.length / 3).toBe(4);
  });

  it("that is cut off is refused with the numbers", () => {
    const whole = writeStl(ball);
    for (const length of [83, 84, 1000, whole.length - 1]) {
      const message = messageOf(() => readMeshBytes(whole.slice(0, length), "ball.stl"));
      expect(message).toMatchObject({ id: "mesh-cut-off", severity: "error", file: "ball.stl" });
      expect(message.text).toContain(`${length} bytes`);
      expect(message.suggestion).toBeTruthy();
    }
  });

  it("with a wrong or a huge count is refused before anything is kept for it", () => {
    const bytes = writeStl(ball);
    const view = new DataView(bytes.buffer);
    view.setUint32(80, 3, true);
    expect(messageOf(() => readMeshBytes(bytes, "a.stl"))).toMatchObject({ id: "mesh-wrong-count" });
    view.setUint32(80, 0xffffffff, true);
    const before = process.memoryUsage().arrayBuffers;
    expect(messageOf(() => readMeshBytes(bytes, "a.stl"))).toMatchObject({ id: "mesh-cut-off" });
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(2 ** 24);
  });

  it("with a coordinate that is no number is refused with triangle and byte", () => {
    for (const value of [Number.NaN, Infinity, -Infinity]) {
      const bytes = writeStl(ball);
      const at = 84 + 50 * 7 + 12 + 4 * 5;
      new DataView(bytes.buffer).setFloat32(at, value, true);
      const message = messageOf(() => readMeshBytes(bytes, "ball.stl"));
      expect(message.id).toBe("mesh-not-finite");
      expect(message.text).toContain("Triangle 8 ");
      expect(message.text).toContain(`byte ${at}`);
    }
  });

  it("without triangles is refused", () => {
    expect(messageOf(() => readMeshBytes(new Uint8Array(84), "a.stl"))).toMatchObject({ id: "mesh-empty" });
  });

  it("of more than five million triangles is refused", () => {
    const bytes = new Uint8Array(84 + 50 * 5_000_001);
    new DataView(bytes.buffer).setUint32(80, 5_000_001, true);
    expect(messageOf(() => readMeshBytes(bytes, "a.stl"))).toMatchObject({ id: "mesh-too-large" });
  });
});

const facet = (corners: string) => `facet normal 0 0 1\n outer loop\n${corners}\n endloop\nendfacet\n`;
const corner = "  vertex 0 0 0\n  vertex 1 0 0\n  vertex 0 1 0";

describe("an STL written as text", () => {
  it("is read as three's STLLoader reads it, written by @jscad/stl-serializer", () => {
    const bytes = joined(serialize({ binary: false }, shape));
    const read = readMeshBytes(bytes, "torus.stl");
    expect(read.triangles.length).toBeGreaterThan(4000);
    expect(cornersOf(read)).toEqual(byLoader(bytes));
  });

  it("may have capitals, other line ends, several solids, a mark before it and normals that are no numbers", () => {
    const body = facet(corner).toUpperCase().replace("0 0 1", "NaN nan -nan");
    for (const end of ["\n", "\r\n", "\r"]) {
      const bytes = text(
        `\uFEFFsolid facet vertex 1\n${body}endsolid a\nsolid\n${body}endsolid`.replaceAll("\n", end),
      );
      const read = readMeshBytes(bytes, "a.txt");
      expect([...read.positions]).toEqual([0, 0, 0, 1, 0, 0, 0, 1, 0]);
      expect(read.triangles.length).toBe(6);
    }
  });

  it("has the numbers that the language reads", () => {
    const numbers = [
      "1e3",
      "-2.5E-3",
      "+.5",
      "7.",
      "123456789012345678e-10",
      "1.17549435e-38",
      "0.1",
      "00012.50",
      "3.4e38",
    ];
    const rows = numbers.map((number) => `vertex ${number} 0 ${number}`);
    for (let i = 0; i < numbers.length; i += 3) {
      const mesh = readAsciiStl(text(`solid\n${facet(rows.slice(i, i + 3).join("\n"))}endsolid`), "a.stl");
      expect(cornersOf(mesh)).toEqual(
        numbers
          .slice(i, i + 3)
          .flatMap((number) => [Math.fround(Number(number)), 0, Math.fround(Number(number))]),
      );
    }
  });

  it("is refused at the line where something else stands", () => {
    const lines = `solid x\n${facet(corner)}${facet(corner)}endsolid x\n`;
    const cases: readonly (readonly [string, string, number, string])[] = [
      [lines.replace("vertex 1 0 0", "vertex 1 zero 0"), "mesh-not-finite", 5, '"zero"'],
      [lines.replace("vertex 1 0 0", "vertex 1 nan 0"), "mesh-not-finite", 5, '"nan"'],
      [lines.replace("vertex 1 0 0", "vertex 1 1,5 0"), "mesh-not-finite", 5, '"1,5"'],
      [lines.replace("vertex 1 0 0", "vertex 1 1e99 0"), "mesh-not-finite", 5, '"1e99"'],
      [lines.replace("vertex 1 0 0", "vertex 1 0x10 0"), "mesh-not-finite", 5, '"0x10"'],
      [lines.replace("endloop", "vertex"), "mesh-wrong-word", 7, '"endloop"'],
      [lines.replace("outer", "inner"), "mesh-wrong-word", 3, '"outer"'],
      [lines.replace("facet normal", "facets normal"), "mesh-wrong-word", 2, '"facets"'],
      [lines.slice(0, lines.indexOf("endsolid")), "mesh-cut-off", 16, '"endsolid"'],
      [lines.slice(0, 150), "mesh-cut-off", lines.slice(0, 150).split("\n").length, "cut off"],
    ];
    for (const [content, id, line, quoted] of cases) {
      const message = messageOf(() => readMeshBytes(text(content), "a.stl"));
      expect(message).toMatchObject({ id, line, file: "a.stl" });
      expect(message.text).toContain(quoted);
    }
  });

  it("without a triangle is refused", () => {
    expect(messageOf(() => readMeshBytes(text("solid nothing\nendsolid nothing\n"), "a.stl"))).toMatchObject({
      id: "mesh-empty",
    });
  });
});
