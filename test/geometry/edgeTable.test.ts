import { describe, expect, it } from "vitest";
import { edgeTable, oppositeHalves } from "../../src/geometry/edgeTable";
import { box, insideOut, together, torus } from "../checks/shapes";

describe("edges of a mesh", () => {
  // Euler's formula for closed meshes: E = 3F/2.
  it.each([
    ["a box", box([0, 0, 0], [1, 1, 1])],
    ["a torus", torus(80, 6, 24, 8)],
  ])("of %s are half as many again as its faces, each with its two sides", (_name, mesh) => {
    const { triangles } = mesh;
    expect(edgeTable(mesh).count).toBe(triangles.length / 2);
    const opposite = oppositeHalves(mesh);
    const end = (half: number) => triangles[half % 3 === 2 ? half - 2 : half + 1];
    opposite.forEach((other, half) => {
      expect(opposite[other]).toBe(half);
      expect([triangles[other], end(other)]).toEqual([end(half), triangles[half]]);
    });
  });

  it("of an open mesh have nothing across the rim", () => {
    const { positions, triangles } = box([0, 0, 0], [1, 1, 1]);
    const open = { positions, triangles: triangles.slice(3) };
    expect(oppositeHalves(open).filter((other) => other < 0)).toHaveLength(3);
  });

  it("of a face that was turned over, or is there twice, face nothing", () => {
    const { positions, triangles } = box([0, 0, 0], [1, 1, 1]);
    const turned = triangles.slice();
    [turned[0], turned[1]] = [triangles[1], triangles[0]];
    expect(oppositeHalves({ positions, triangles: turned }).filter((other) => other < 0)).toHaveLength(6);
    const twice = { positions, triangles: Uint32Array.from([...triangles, ...triangles.slice(0, 3)]) };
    // Three edges are used three times: by two faces and the copy of one.
    expect(oppositeHalves(twice).filter((other) => other < 0)).toHaveLength(9);
  });

  it("of two bodies do not mix, whichever way they face", () => {
    const both = together(box([0, 0, 0], [1, 1, 1]), insideOut(box([3, 0, 0], [4, 1, 1])));
    expect(oppositeHalves(both).every((other) => other >= 0)).toBe(true);
  });
});
