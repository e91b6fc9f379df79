import { describe, expect, test } from "vitest";
import { markPlaces } from "../../../src/preview/scene/markPlaces";
import { ball, cube } from "./shapes";

describe("markPlaces", () => {
  test("stands on the side away from the head", () => {
    const at = markPlaces(cube(10, [100, 0, 0]), [7], [0, 0, 0]).get(7);
    // The far face of the cube lies at x = 105.
    expect(at?.[0]).toBeCloseTo(105, 4);
  });

  test("stands on the front of what goes round the head", () => {
    const at = markPlaces(ball(90), [2], [0, 0, 0]).get(2);
    expect(at?.[1]).toBeGreaterThan(88);
  });

  test("looks only at the part's own triangles; a part without any has no place", () => {
    const [a, b] = [cube(10, [100, 0, 0]), cube(10, [-100, 0, 0])];
    const positions = new Float32Array([...a.positions, ...b.positions]);
    const triangles = new Uint32Array([...a.triangles, ...b.triangles.map((index) => index + 8)]);
    const partOfTriangle = new Int32Array(24).fill(3, 0, 12).fill(5, 12);
    const places = markPlaces({ positions, triangles, partOfTriangle }, [5, 9, 3], [0, 0, 0]);
    expect(places.get(3)?.[0]).toBeCloseTo(105, 4);
    expect(places.get(5)?.[0]).toBeCloseTo(-105, 4);
    expect(places.has(9)).toBe(false);
  });
});
