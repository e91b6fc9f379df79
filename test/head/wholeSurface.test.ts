import { describe, expect, it } from "vitest";
import { meshVolume } from "../../src/geometry/measure";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { buildHeadForm, HeadForm } from "../../src/head/headForm";
import {
  azimuthOfColumn,
  emptySample,
  RadialSurface,
  type RadialSurfaceData,
} from "../../src/head/radialSurface";
import { meanMan } from "./scanShapes";

/** A surface whose left and right have samples of their own, from a rule for its radii. */
function whole(
  like: RadialSurfaceData,
  radius: (azimuth: number, elevation: number) => number,
): RadialSurfaceData {
  const grid = { ...like, columns: 240, whole: true };
  const radii = new Float64Array(grid.columns * grid.rows);
  for (let j = 0; j < grid.rows; j++) {
    for (let i = 0; i < grid.columns; i++) {
      radii[j * grid.columns + i] = radius(azimuthOfColumn(grid, i), Math.PI * (j / (grid.rows - 1) - 0.5));
    }
  }
  return { ...grid, radii };
}

/** Edges that are not had by two triangles, once each way. */
function openEdges({ triangles }: TriangleMesh): number {
  const edges = new Map<string, number>();
  for (let i = 0; i < triangles.length; i += 3) {
    for (let k = 0; k < 3; k++) {
      const [a, b] = [triangles[i + k], triangles[i + ((k + 1) % 3)]];
      edges.set(`${a} ${b}`, (edges.get(`${a} ${b}`) ?? 0) + 1);
    }
  }
  return [...edges].filter(([edge, count]) => {
    const [a, b] = edge.split(" ");
    return count !== 1 || edges.get(`${b} ${a}`) !== 1;
  }).length;
}

const form = buildHeadForm(meanMan);
const mirrored = form.surface;
const same = new RadialSurface(whole(mirrored.data, (a, e) => mirrored.uncutRadius(a, e)));
/** Fuller on the right, to the back. */
const lopsided = whole(
  mirrored.data,
  (a, e) =>
    mirrored.uncutRadius(a, e) *
    (1 + 0.04 * Math.sin(a) * Math.cos(e) ** 2 + 0.01 * Math.cos(2 * a) * Math.cos(e) ** 2),
);
const head = new HeadForm({ measurements: meanMan, surface: lopsided });

describe("a surface with samples all round", () => {
  it("is the mirrored one where left and right are alike", () => {
    const [a, b] = [emptySample(), emptySample()];
    for (let azimuth = -3.1; azimuth < 6.4; azimuth += 0.173) {
      for (let elevation = -1.1; elevation <= Math.PI / 2; elevation += 0.11) {
        mirrored.evaluate(azimuth, elevation, a);
        same.evaluate(azimuth, elevation, b);
        expect(b.radius).toBeCloseTo(a.radius, 3);
        expect(a.nx * b.nx + a.ny * b.ny + a.nz * b.nz).toBeGreaterThan(1 - 1e-5);
      }
    }
  });

  it("goes through its samples, over the seam and the poles", () => {
    const surface = new RadialSurface(lopsided);
    for (let j = 0; j < lopsided.rows; j += 9) {
      for (let i = 0; i < lopsided.columns; i += 7) {
        const elevation = Math.PI * (j / (lopsided.rows - 1) - 0.5);
        const radius = surface.uncutRadius(azimuthOfColumn(lopsided, i), elevation);
        expect(radius).toBeCloseTo(lopsided.radii[j * lopsided.columns + i], 6);
      }
    }
    for (const elevation of [-0.4, 0.3, 1.5]) {
      const before = surface.uncutRadius(-1e-9, elevation);
      expect(surface.uncutRadius(1e-9, elevation)).toBeCloseTo(before, 6);
    }
  });

  it("has the normals of its slopes", () => {
    const surface = new RadialSurface(lopsided);
    const [at, aside, above] = [emptySample(), emptySample(), emptySample()];
    for (const [azimuth, elevation] of [
      [0.4, 0.2],
      [-1.7, 0.9],
      [3.1, 0.1],
      [-0.002, 1.2],
    ]) {
      surface.evaluate(azimuth, elevation, at);
      surface.evaluate(azimuth + 1e-5, elevation, aside);
      surface.evaluate(azimuth, elevation + 1e-5, above);
      for (const near of [aside, above]) {
        const step = [near.x - at.x, near.y - at.y, near.z - at.z];
        const along = (step[0] * at.nx + step[1] * at.ny + step[2] * at.nz) / Math.hypot(...step);
        expect(Math.abs(along)).toBeLessThan(1e-3);
      }
    }
  });

  it("has a closed outward mesh, unlike left and right", () => {
    const mesh = head.mesh();
    expect(openEdges(mesh)).toBe(0);
    expect(meshVolume(mesh)).toBeGreaterThan(0);
    let [right, left] = [0, 0];
    for (let i = 0; i < mesh.positions.length; i += 3) {
      right = Math.max(right, mesh.positions[i]);
      left = Math.min(left, mesh.positions[i]);
    }
    expect(right + left).toBeGreaterThan(2);
  });

  it("grows along its normals, and comes through to plain data and back", () => {
    const grown = head.grown({ offset: 5, hairThickness: 0 });
    expect(openEdges(grown.mesh())).toBe(0);
    for (const azimuth of [-170, -90, -20, 0, 45, 90, 179]) {
      for (const elevation of [0, 30, 75]) {
        const point = grown.surface.evaluate(
          (azimuth * Math.PI) / 180,
          (elevation * Math.PI) / 180,
          emptySample(),
        );
        expect(head.signedDistance([point.x, point.y, point.z])).toBeCloseTo(5, 1);
      }
    }
    const again = HeadForm.fromData(structuredClone(head.toData()));
    expect(again.pointAt({ azimuth: -70, elevation: 20 })).toEqual(
      head.pointAt({ azimuth: -70, elevation: 20 }),
    );
  });

  it("has landmarks of its own on each side", () => {
    const { leftTragion, rightTragion } = head.landmarks;
    expect(rightTragion[0] + leftTragion[0]).toBeGreaterThan(2);
    for (const tragion of [leftTragion, rightTragion]) {
      expect(Math.hypot(tragion[1], tragion[2])).toBeLessThan(1e-3);
    }
    const { points } = head.coronalLine;
    expect(Math.hypot(...points[0].map((value, axis) => value - leftTragion[axis]))).toBeLessThan(1e-6);
    expect(points[points.length - 1][0]).toBeGreaterThan(0);
    // A mirrored head's left is the right's mirror to the last bit.
    const { leftTemple, rightTemple } = form.landmarks;
    expect(leftTemple).toEqual([-rightTemple[0], rightTemple[1], rightTemple[2]]);
  });

  it("has shortest lines: on the fuller side the way from front to back is longer", () => {
    const lengthOf = (side: 1 | -1): number => {
      const { points } = head.lineBetween(
        { azimuth: 0, elevation: 0 },
        { azimuth: side * 179, elevation: 0 },
      );
      let sum = 0;
      for (let i = 1; i < points.length; i++) {
        sum += Math.hypot(...points[i].map((value, axis) => value - points[i - 1][axis]));
      }
      return sum;
    };
    expect(lengthOf(1)).toBeGreaterThan(lengthOf(-1) + 3);
  });
});
