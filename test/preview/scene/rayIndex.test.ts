import { describe, expect, test } from "vitest";
import { RayIndex } from "../../../src/preview/scene/rayIndex";
import { unit, type Vector } from "../../../src/preview/scene/vector";
import { ball, cube } from "./shapes";

describe("RayIndex", () => {
  const box = cube(20);
  const rays = new RayIndex(box.positions, box.triangles);

  test("meets a cube where the slabs say", () => {
    for (let i = 0; i < 200; i++) {
      // Golden angles spread the directions evenly.
      const z = 1 - (2 * i + 1) / 200;
      const turn = i * 2.399963;
      const out: Vector = [Math.sqrt(1 - z * z) * Math.cos(turn), Math.sqrt(1 - z * z) * Math.sin(turn), z];
      const origin: Vector = [50 * out[0], 50 * out[1], 50 * out[2]];
      const hit = rays.first(origin, [-out[0], -out[1], -out[2]]);
      const surface = 10 / Math.max(...out.map(Math.abs));
      expect(hit?.distance).toBeCloseTo(50 - surface, 4);
    }
  });

  test("meets a ball at its radius, past those that miss", () => {
    const { positions, triangles } = ball(30, 192, 96);
    const index = new RayIndex(positions, triangles);
    for (const offset of [0.1, 5, 15, 25]) {
      const hit = index.first([100, offset, 0.1], [-1, 0, 0]);
      expect(hit?.distance).toBeCloseTo(100 - Math.sqrt(30 ** 2 - offset ** 2 - 0.01), 1);
    }
    expect(index.first([100, 31, 0], [-1, 0, 0])).toBeUndefined();
    expect(index.first([100, 0, 0.1], [1, 0, 0])).toBeUndefined();
  });

  test("what is cut away is passed through, and a limit ends the ray", () => {
    const cut = { normal: [1, 0, 0] as Vector, offset: 0 };
    // The near side at x = 10 is cut away; the far one is met from within.
    expect(rays.first([50, 1, 2], [-1, 0, 0], cut)?.distance).toBeCloseTo(60, 5);
    expect(rays.first([50, 1, 2], [-1, 0, 0], undefined, 30)).toBeUndefined();
  });

  test("tells the triangle", () => {
    const hit = rays.first([0, 1, 50], unit([0, 0, -1]));
    const corners = [0, 1, 2].map((i) => box.triangles[3 * (hit?.triangle ?? 0) + i]);
    for (const corner of corners) expect(box.positions[3 * corner + 2]).toBe(10);
  });
});
