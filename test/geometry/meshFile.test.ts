import { describe, expect, it } from "vitest";
import { Random } from "../../src/design/random";
import { writeStl } from "../../src/export/stl";
import { meshFormatOf, readMeshBytes } from "../../src/geometry/meshFile";
import { MessageError } from "../../src/message";
import { ellipsoid } from "../checks/shapes";

const text = (lines: string): Uint8Array => new TextEncoder().encode(lines);
const asciiStl =
  "solid a\nfacet normal 0 0 1\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid\n";
const obj = "v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n";

function messageOf(read: () => unknown) {
  try {
    read();
  } catch (error) {
    if (error instanceof MessageError) return error.messages[0];
    throw error;
  }
  return undefined;
}

describe("the format of a mesh's file", () => {
  it("is what the content says, whatever the name", () => {
    const binary = writeStl(ellipsoid(1, 1, 1, 6, 8));
    for (const name of ["a.stl", "a.obj", "a.txt", "a"]) {
      expect(meshFormatOf(binary, name)).toBe("binary STL");
      expect(meshFormatOf(text(asciiStl), name)).toBe("ASCII STL");
      expect(meshFormatOf(text(`\uFEFF ${asciiStl}`), name)).toBe("ASCII STL");
      expect(meshFormatOf(text(obj), name)).toBe("OBJ");
      expect(meshFormatOf(text(`# solid\r\n\r\n  ${obj}`), name)).toBe("OBJ");
    }
  });

  it("is that of the name where the content leaves it open", () => {
    const comment = "# a long comment\n".repeat(5000);
    expect(meshFormatOf(text(comment + obj), "A.OBJ")).toBe("OBJ");
    expect(readMeshBytes(text(comment + obj), "A.OBJ").triangles.length).toBe(3);
    expect(meshFormatOf(new Uint8Array(50), "a.STL")).toBe("binary STL");
  });

  it("is told where it is another", () => {
    const others: readonly (readonly [string, string])[] = [
      ["ply\nformat ascii 1.0\n", "PLY"],
      ["PK\x03\x04mimetype", "ZIP"],
      ["glTF\x02\0\0\0", "glTF"],
      ["<html><body>not found</body></html>", "neither STL nor OBJ"],
    ];
    for (const [content, words] of others) {
      const message = messageOf(() => readMeshBytes(text(content), "scan"));
      expect(message).toMatchObject({ id: "mesh-unknown-format", severity: "error", file: "scan" });
      expect(message?.text).toContain(words);
      expect(message?.suggestion).toContain("STL");
    }
    expect(messageOf(() => readMeshBytes(text(others[0][0]), "scan.stl"))?.text).toContain("PLY");
    expect(messageOf(() => readMeshBytes(new Uint8Array(0), "scan.stl"))).toMatchObject({ id: "mesh-empty" });
  });
});

describe("nonsense", () => {
  const seed = 20_817;
  const size = 2_000_000;
  const alphabets: readonly (readonly [string, string])[] = [
    ["bytes", ""],
    ["letters", "abcdefvnsolid fv\n 0123456789./-"],
    ["words of an OBJ", "vf 123-/.\n"],
    ["one line", "f 1"],
    ["a solid", "facetnormlup \nvx019.-"],
  ];
  for (const [kind, letters] of alphabets) {
    it(`of two megabytes (${kind}) is read or refused in a moment, seed ${seed}`, () => {
      const random = new Random(seed);
      const bytes = new Uint8Array(size);
      for (let i = 0; i < size; i++) {
        bytes[i] =
          letters === "" ? random.whole(0, 255) : letters.charCodeAt(random.whole(0, letters.length - 1));
      }
      for (const start of ["", "solid\n", "v 1 2 3\nf 1 1 1\n"]) {
        bytes.set(text(start));
        for (const name of ["a.stl", "a.obj", "a"]) {
          const before = performance.now();
          const message = messageOf(() => readMeshBytes(bytes, name));
          // A generous bound: it tells a hang, not a speed.
          expect(performance.now() - before).toBeLessThan(10_000);
          if (message !== undefined) {
            expect(message.id).toMatch(/^mesh-/);
            expect(message.text.length).toBeLessThan(300);
          }
        }
      }
    });
  }

  it("never makes a mesh with a vertex that is missing or no number: damaged files", () => {
    const random = new Random(seed);
    const sources = [text(asciiStl.repeat(3)), text(obj.repeat(3)), writeStl(ellipsoid(1, 1, 1, 4, 6))];
    let read = 0;
    for (let round = 0; round < 3000; round++) {
      const bytes = sources[round % 3].slice(0, round % 5 === 0 ? random.whole(0, 400) : undefined);
      for (let k = 0; k < 3 && bytes.length > 0; k++) {
        bytes[random.whole(0, bytes.length - 1)] = random.whole(0, 255);
      }
      messageOf(() => {
        const { positions, triangles } = readMeshBytes(bytes, `seed-${seed}-round-${round}`);
        read++;
        expect(positions.every(Number.isFinite)).toBe(true);
        expect(triangles.every((vertex) => vertex < positions.length / 3)).toBe(true);
        expect(triangles.length % 3).toBe(0);
      });
    }
    expect(read).toBeGreaterThan(100);
  });
});
