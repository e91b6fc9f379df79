import { describe, expect, test } from "vitest";
import { shadedMesh } from "../../../src/preview/scene/shadedMesh";
import { ball, cube } from "./shapes";

const normalOf = (normals: Int16Array, vertex: number) =>
  [0, 1, 2].map((axis) => normals[4 * vertex + axis] / 32767);

describe("shadedMesh", () => {
  test("a cube keeps its edges: four vertices a side, each with the side's own normal", () => {
    const { positions, triangles } = cube(10);
    const shaded = shadedMesh(positions, triangles);
    expect(shaded.positions.length / 3).toBe(24);
    for (let i = 0; i < shaded.triangles.length; i++) {
      const normal = normalOf(shaded.normals, shaded.triangles[i]);
      const side = normal.findIndex((value) => Math.abs(value) > 0.999);
      expect(side).toBeGreaterThanOrEqual(0);
      // The side that the vertex lies on.
      expect(Math.sign(normal[side])).toBe(Math.sign(shaded.positions[3 * shaded.triangles[i] + side]));
    }
  });

  test("a ball is smooth: no vertex is split, and normals point along radii", () => {
    const { positions, triangles } = ball(30);
    const shaded = shadedMesh(positions, triangles);
    expect(shaded.positions.length).toBe(positions.length);
    for (let vertex = 0; vertex < shaded.positions.length / 3; vertex++) {
      const normal = normalOf(shaded.normals, vertex);
      const cosine = normal.reduce(
        (sum, value, i) => sum + (value * shaded.positions[3 * vertex + i]) / 30,
        0,
      );
      expect(cosine).toBeGreaterThan(0.995);
    }
  });

  test("the surface itself does not change", () => {
    const { positions, triangles } = cube(7, [1, 2, 3]);
    const shaded = shadedMesh(positions, triangles);
    for (let i = 0; i < triangles.length; i++) {
      for (let axis = 0; axis < 3; axis++) {
        expect(shaded.positions[3 * shaded.triangles[i] + axis]).toBe(positions[3 * triangles[i] + axis]);
      }
    }
  });

  test("parts meet at an edge however smooth, and every corner has the part of its triangle", () => {
    const { positions, triangles } = ball(30);
    const parts = Int32Array.from({ length: triangles.length / 3 }, (_, i) => (i % 2 ? 4 : -1));
    const shaded = shadedMesh(positions, triangles, parts);
    expect(shaded.positions.length).toBeGreaterThan(positions.length);
    shaded.triangles.forEach((vertex, i) => {
      expect(shaded.parts?.[vertex]).toBe(parts[Math.floor(i / 3)]);
    });
  });

  test("the angle decides: a fold of 40° is smooth at 50° and an edge at 30°", () => {
    const fold = (40 * Math.PI) / 180;
    const positions = new Float32Array([0, 0, 0, 0, 1, 0, -1, 0, 0, Math.cos(fold), 0, Math.sin(fold)]);
    const triangles = new Uint32Array([0, 1, 2, 0, 3, 1]);
    expect(shadedMesh(positions, triangles, undefined, 50).positions.length / 3).toBe(4);
    expect(shadedMesh(positions, triangles, undefined, 30).positions.length / 3).toBe(6);
  });

  test("slivers without area change no normal, and many edges need no known size", () => {
    const { positions, triangles } = cube(10);
    const slivers = new Uint32Array([...triangles, 0, 0, 1, 3, 3, 3]);
    const shaded = shadedMesh(positions, slivers);
    expect(shaded.positions.length / 3).toBe(24);
    expect(shaded.normals.every(Number.isFinite)).toBe(true);
    // A fan of a thousand blades about one line: each vertex on it splits a thousandfold.
    const fan: number[] = [0, 0, 0, 0, 0, 1];
    const blades: number[] = [];
    for (let i = 0; i < 1000; i++) {
      const angle = (i * 137.5 * Math.PI) / 180;
      fan.push(Math.cos(angle), Math.sin(angle), 0);
      blades.push(0, 1, i + 2);
    }
    const parts = Int32Array.from({ length: 1000 }, (_, i) => i);
    expect(shadedMesh(new Float32Array(fan), new Uint32Array(blades), parts).positions.length / 3).toBe(3000);
  });

  test("an index beyond the vertices is refused", () => {
    expect(() => shadedMesh(new Float32Array(9), new Uint32Array([0, 1, 3]))).toThrow(RangeError);
  });
});
