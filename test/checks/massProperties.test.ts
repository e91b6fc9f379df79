import { describe, expect, it } from "vitest";
import { boxSize, massProperties } from "../../src/checks/massProperties";
import { box, insideOut, meshOf, together } from "./shapes";

describe("massProperties", () => {
  it("measures a box exactly", () => {
    const body = massProperties(box([10, 20, 30], [12, 25, 37]));
    expect(body.volume).toBeCloseTo(70, 10);
    expect(body.area).toBeCloseTo(2 * (10 + 14 + 35), 10);
    expect(body.centre).toEqual([11, 22.5, 33.5]);
    expect(boxSize(body.box)).toEqual([2, 5, 7]);
  });

  it("takes a void away and counts its walls", () => {
    const body = massProperties(together(box([0, 0, 0], [4, 4, 4]), insideOut(box([1, 1, 1], [2, 2, 2]))));
    expect(body.volume).toBeCloseTo(63, 10);
    expect(body.area).toBeCloseTo(96 + 6, 10);
    expect(body.centre[0]).toBeCloseTo((64 * 2 - 1.5) / 63, 10);
  });

  it("tells a mesh that is inside out by a negative volume, with the same centre", () => {
    const body = massProperties(insideOut(box([0, 0, 0], [2, 2, 2])));
    expect(body.volume).toBeCloseTo(-8, 10);
    expect(body.centre).toEqual([1, 1, 1]);
  });

  it("refuses an empty mesh and a coordinate that is no number", () => {
    expect(() => massProperties(meshOf([], []))).toThrow(/no triangles/);
    const broken = meshOf(
      [
        [0, 0, 0],
        [1, 0, Number.NaN],
        [0, 1, 0],
      ],
      [[0, 1, 2]],
    );
    expect(() => massProperties(broken)).toThrow(/Vertex 1 has the coordinate NaN/);
  });
});
