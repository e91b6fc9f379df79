import type { BufferGeometry, Mesh } from "three";
import { OBJLoader } from "three/addons/loaders/OBJLoader.js";
import { describe, expect, it } from "vitest";
import { meshArea, meshVolume } from "../../src/geometry/measure";
import { readMeshBytes } from "../../src/geometry/meshFile";
import { readObj } from "../../src/geometry/objReading";
import { MessageError } from "../../src/message";
import { ellipsoid } from "../checks/shapes";

const text = (lines: string): Uint8Array => new TextEncoder().encode(lines);

function messageOf(read: () => unknown) {
  try {
    read();
  } catch (error) {
    if (error instanceof MessageError) return error.messages[0];
    throw error;
  }
  throw new Error("Nothing was refused.");
}

/** A cube of side 2 as six squares. */
const cube = `# a cube
mtllib cube.mtl
o cube
v 0 0 0
v 2 0 0
v 2 2 0
v 0 2 0
v 0 0 2
v 2 0 2
v 2 2 2
v 0 2 2
vt 0 0
vn 0 0 1
g sides
usemtl kelp
s off
f 4 3 2 1
f 5 6 7 8
f 1/1 2/1 6/1 5/1
f 2//1 3//1 7//1 6//1
f 3/1/1 4/1/1 8/1/1 7/1/1
f -5 -8 -4 -1
`;

describe("an OBJ", () => {
  it("gives a cube of six squares its area and volume", () => {
    const mesh = readMeshBytes(text(cube), "cube.obj");
    expect(mesh.positions.length).toBe(24);
    expect(mesh.triangles.length).toBe(36);
    expect(meshArea(mesh)).toBeCloseTo(24, 10);
    expect(meshVolume(mesh)).toBeCloseTo(8, 10);
  });

  it("counts negative numbers back from the last vertex before the face", () => {
    const mesh = readObj(
      text("v 9 9 9\nv 0 0 0\nv 1 0 0\nv 0 1 0\nf -3 -2 -1\nv 5 5 5\nv 6 5 5\nv 5 6 5\nf -3 -2 -1"),
      "a",
    );
    expect([...mesh.triangles]).toEqual([1, 2, 3, 4, 5, 6]);
  });

  it("cuts a concave face into triangles within it", () => {
    // An L of three unit squares, its area 3 by count.
    const outline = ["0 0", "2 0", "2 1", "1 1", "1 2", "0 2"];
    const planes = [
      (point: string) => `${point} 5`,
      (point: string) => `5 ${point}`,
      (point: string) => point.replace(" ", " 5 "),
    ];
    for (const place of planes) {
      for (const order of [outline, [...outline].reverse()]) {
        for (let first = 0; first < 6; first++) {
          const turned = [...order.slice(first), ...order.slice(0, first)];
          const mesh = readObj(
            text(`${turned.map((p) => `v ${place(p)}`).join("\n")}\nf 1 2 3 4 5 6\n`),
            "a",
          );
          expect(mesh.triangles.length).toBe(12);
          expect(meshArea(mesh)).toBeCloseTo(3, 10);
        }
      }
    }
  });

  it("closes a face of many corners", () => {
    const n = 500;
    const rim = Array.from({ length: n }, (_, i) => {
      const angle = (2 * Math.PI * i) / n;
      return `v ${Math.cos(angle)} ${Math.sin(angle)} 0`;
    });
    const face = `f ${Array.from({ length: n }, (_, i) => i + 1).join(" ")}`;
    // Area of the regular polygon: n/2 · sin(2π/n).
    expect(meshArea(readObj(text(`${rim.join("\n")}\n${face}`), "a"))).toBeCloseTo(
      (n / 2) * Math.sin((2 * Math.PI) / n),
      4,
    );
  });

  it("keeps a face that crosses itself or has no area as triangles on its corners", () => {
    for (const points of ["v 0 0 0\nv 1 1 0\nv 1 0 0\nv 0 1 0", "v 0 0 0\nv 1 0 0\nv 2 0 0\nv 3 0 0"]) {
      const { triangles } = readObj(text(`${points}\nf 1 2 3 4`), "a");
      expect(triangles.length).toBe(6);
      expect(Math.max(...triangles)).toBe(3);
    }
  });

  it("goes on in the next line after a backslash, with any line ends, and takes colours and weights", () => {
    const lines = "v 0 0 0 1\nv 1 0 0 0.5 0.5 0.5\nv 1 \\\n 1 0\nv 0 1 0\nf 1 2 \\\n3\\\n 4\n";
    for (const end of ["\n", "\r\n", "\r"]) {
      const mesh = readObj(text(lines.replaceAll("\n", end)), "a");
      expect(meshArea(mesh)).toBeCloseTo(1, 10);
    }
  });

  it("has one vertex where several are the same", () => {
    const mesh = readObj(text("v 0 0 0\nv 1 0 0\nv 0 1 0\nv 1 0 0\nv 0 1 0\nv 1 1 0\nf 1 2 3\nf 5 4 6"), "a");
    expect(mesh.positions.length / 3).toBe(4);
    expect([...mesh.triangles]).toEqual([0, 1, 2, 2, 1, 3]);
  });

  it("is read as three's OBJLoader reads it", () => {
    const { positions, triangles } = ellipsoid(75, 95, 120, 30, 40);
    const lines: string[] = [];
    for (let i = 0; i < positions.length; i += 3)
      lines.push(`v ${[...positions.subarray(i, i + 3)].join(" ")}`);
    for (let i = 0; i < triangles.length; i += 3) {
      lines.push(`f ${[...triangles.subarray(i, i + 3)].map((v) => `${v + 1}//1`).join(" ")}`);
    }
    lines.splice(5, 0, "vn 0 0 1");
    const content = `${lines.join("\n")}\n`;
    const mesh = readMeshBytes(text(content), "ball.obj");
    const geometry = (new OBJLoader().parse(content).children[0] as Mesh).geometry as BufferGeometry;
    const corners = [...mesh.triangles].flatMap((v) => [...mesh.positions.subarray(3 * v, 3 * v + 3)]);
    expect(corners).toEqual([...geometry.getAttribute("position").array]);
  });

  it("is refused at the line that is wrong", () => {
    const points = "v 0 0 0\nv 1 0 0\nv 0 1 0\n";
    const cases: readonly (readonly [string, string, number, string])[] = [
      [`${points}f 1 2 4`, "mesh-missing-vertex", 4, "vertex 4"],
      [`${points}f 1 2 -4`, "mesh-missing-vertex", 4, "vertex -4"],
      [`${points}f 0 1 2`, "mesh-missing-vertex", 4, "vertex 0"],
      [`${points}f 1 2 99999999999999999999`, "mesh-missing-vertex", 4, "vertices 1 to 3"],
      [`f 1 2 3\n${points}`, "mesh-missing-vertex", 1, "no vertices"],
      [`${points}f 1 2`, "mesh-wrong-face", 4, "2 corners"],
      [`${points}f 1 2 three`, "mesh-wrong-face", 4, '"three"'],
      [`${points}f 1 2 3.5`, "mesh-wrong-face", 4, '"3.5"'],
      ["v 0 0 0\nv 1 nan 0\n", "mesh-not-finite", 2, '"nan"'],
      ["v 0 0 0\nv 1 2\nv 0 0 0\n", "mesh-not-finite", 2, "fewer than three"],
      ["v 0 0 0\nv 1 2 1e39\n", "mesh-not-finite", 2, '"1e39"'],
    ];
    for (const [content, id, line, words] of cases) {
      const message = messageOf(() => readMeshBytes(text(content), "a.obj"));
      expect(message).toMatchObject({ id, line, file: "a.obj", severity: "error" });
      expect(message.text).toContain(words);
      expect(message.suggestion).toBeTruthy();
    }
  });

  it("that is a cloud of points, or nothing, is refused", () => {
    expect(messageOf(() => readMeshBytes(text("v 0 0 0\nv 1 0 0\n"), "a.obj"))).toMatchObject({
      id: "mesh-empty",
    });
    expect(messageOf(() => readMeshBytes(text("# nothing\n"), "a.obj"))).toMatchObject({ id: "mesh-empty" });
  });
});
