import { describe, expect, it } from "vitest";
import { contours } from "../../src/export/sheet/contour";
import { chainCracks } from "../../src/export/sheet/cracks";
import { areaOf, lengthOf, simplified, smoothed } from "../../src/export/sheet/polyline";
import { frontView, pictureView, sideView, topView } from "../../src/export/sheet/projection";
import { rasterise } from "../../src/export/sheet/raster";
import { cross, dot } from "../../src/geometry/vector";
import { box, ellipsoid, moved, together } from "../checks/shapes";

const grid = { left: -60, top: 60, pixel: 0.5, width: 240, height: 240 };

describe("views", () => {
  it("are right-handed frames", () => {
    for (const view of [frontView, sideView, topView, pictureView("picture", "", -32, 24)]) {
      cross(view.right, view.up).forEach((value, axis) => {
        expect(value).toBeCloseTo(view.towards[axis], 12);
      });
      expect(dot(view.right, view.right)).toBeCloseTo(1, 12);
    }
  });
});

describe("rasterise", () => {
  it("covers a ball's shadow and sees its near side", () => {
    const { depth, triangle } = rasterise(ellipsoid(50, 50, 50, 90, 180), frontView, grid);
    const covered = triangle.filter((t) => t >= 0).length * grid.pixel ** 2;
    expect(covered / (Math.PI * 50 ** 2)).toBeCloseTo(1, 2);
    expect(depth[120 * 240 + 120]).toBeCloseTo(50, 1);
    expect(depth[0]).toBe(-Infinity);
  });

  it("shows the nearer of two bodies, whichever comes first", () => {
    const near = box([-5, 10, -5], [5, 20, 5]);
    const far = box([-9, -30, -9], [9, -20, 9]);
    for (const mesh of [together(near, far), together(far, near)]) {
      const { depth } = rasterise(mesh, frontView, grid);
      expect(depth[120 * 240 + 120]).toBeCloseTo(20, 5);
      expect(depth[120 * 240 + 134]).toBeCloseTo(-20, 5);
    }
  });

  it("leaves no gap and no overlap where triangles meet", () => {
    const { triangle } = rasterise(moved(box([-20, -1, -20], [20, 1, 20]), [0.1, 0, 0.1]), frontView, grid);
    expect(triangle.filter((t) => t >= 0).length).toBe(80 * 80);
  });
});

describe("contours", () => {
  const field = (f: (x: number, y: number) => number): Float32Array =>
    Float32Array.from({ length: 100 * 80 }, (_, i) => f((i % 100) + 0.5, Math.floor(i / 100) + 0.5));

  it("runs round a disc on its true radius", () => {
    const lines = contours(
      field((x, y) => Math.hypot(x - 50, y - 40)),
      100,
      80,
      25,
    );
    expect(lines).toHaveLength(1);
    expect(Math.abs(areaOf(lines[0])) / (Math.PI * 625)).toBeCloseTo(1, 2);
    for (let i = 0; i < lines[0].points.length; i += 2) {
      expect(Math.hypot(lines[0].points[i] - 50, lines[0].points[i + 1] - 40)).toBeCloseTo(25, 1);
    }
  });

  it("gives a hole its own line, the other way round", () => {
    const lines = contours(
      field((x, y) => Math.abs(Math.hypot(x - 50, y - 40) - 20)),
      100,
      80,
      6,
    );
    expect(lines).toHaveLength(2);
    expect(areaOf(lines[0]) * areaOf(lines[1])).toBeLessThan(0);
    expect(Math.abs(areaOf(lines[0]) + areaOf(lines[1])) / (Math.PI * (26 ** 2 - 14 ** 2))).toBeCloseTo(1, 1);
  });

  it("closes at the rim of the field, and finds nothing in a flat one", () => {
    expect(
      contours(
        field(() => 0),
        100,
        80,
        1,
      ),
    ).toHaveLength(1);
    expect(
      contours(
        field(() => 2),
        100,
        80,
        1,
      ),
    ).toHaveLength(0);
  });
});

describe("chainCracks", () => {
  it("chains the border of two halves and of three thirds that meet", () => {
    const halves = chainCracks(10, 8, (a, b) => (a % 10 < 5 === b % 10 < 5 ? 0 : 1));
    expect(halves.get(1)).toEqual([
      { points: Array.from({ length: 9 }, (_, y) => [5, y]).flat(), closed: false },
    ]);
    const region = (at: number): number => (at % 10 < 5 ? 0 : Math.floor(at / 10) < 4 ? 1 : 2);
    const thirds = chainCracks(10, 8, (a, b) => (region(a) === region(b) ? 0 : 1)).get(1) ?? [];
    expect(thirds).toHaveLength(3);
    expect(thirds.reduce((sum, line) => sum + lengthOf(line), 0)).toBe(8 + 5);
  });

  it("closes a ring", () => {
    const inside = (at: number): boolean => at % 10 > 2 && at % 10 < 7 && at > 20 && at < 60;
    const [ring] = chainCracks(10, 8, (a, b) => (inside(a) === inside(b) ? 0 : 2)).get(2) ?? [];
    expect(ring.closed).toBe(true);
    expect(lengthOf(ring)).toBe(2 * (4 + 4));
  });
});

describe("lines", () => {
  const stairs = {
    points: Array.from({ length: 41 }, (_, i) => [Math.ceil(i / 2), Math.floor(i / 2)]).flat(),
    closed: false,
  };

  it("smooths stairs into a slope and keeps their ends", () => {
    const { points } = smoothed(stairs, 10);
    expect(points.slice(0, 2)).toEqual([0, 0]);
    expect(points.slice(-2)).toEqual([20, 20]);
    for (let i = 10; i < 60; i += 2) expect(Math.abs(points[i] - points[i + 1] - 0.5)).toBeLessThan(0.02);
  });

  it("leaves out what the tolerance allows, no more", () => {
    expect(simplified(stairs, 1).points).toEqual([0, 0, 20, 20]);
    expect(simplified(stairs, 0.1).points.length).toBe(stairs.points.length);
  });
});
