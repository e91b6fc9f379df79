import { describe, expect, it } from "vitest";
import { Curve } from "../../src/geometry/curve";
import { angleAbout, rotationMinimisingNormals } from "../../src/geometry/frames";
import { meshArea, meshVolume } from "../../src/geometry/measure";
import type { TriangleMesh } from "../../src/geometry/mesh";
import { trueAreaFactor } from "../../src/geometry/section";
import { sweepTube } from "../../src/geometry/sweep";
import type { Vec3 } from "../../src/geometry/vector";
import { circlePoints, sampled, trefoilAt, tube } from "../geometry/tubes";

/** Relative difference. */
const off = (value: number, wanted: number) => Math.abs(value / wanted - 1);

describe("lengths", () => {
  // Complete elliptic integral of the second kind, 4a·E(e); e.g. NIST DLMF 19.30.5. Values computed from it.
  it.each([
    [199.5, 154.3, 558.017728312],
    [300, 100, 668.244661028],
  ])("perimeter of the ellipse %d × %d", (a, b, wanted) => {
    const points = sampled(720, (t) => [
      (a / 2) * Math.cos(2 * Math.PI * t),
      (b / 2) * Math.sin(2 * Math.PI * t),
      0,
    ]);
    const { length } = new Curve({ kind: "through", points, closed: true });
    expect(off(length, wanted)).toBeLessThan(1e-6);
  });

  it("helix, radius 80, rise 20 a radian, 3 turns: 6π·√(80² + 20²)", () => {
    const { length } = new Curve({ kind: "through", points: sampled(481, helixAt, true), closed: false });
    expect(off(length, 1554.374201)).toBeLessThan(1e-6);
  });

  it("trefoil (2, 3), R 80, r 30: ∫|c′| of its formula", () => {
    const { length } = new Curve({ kind: "through", points: sampled(720, trefoilAt(80, 30)), closed: true });
    expect(off(length, 1161.27472)).toBeLessThan(1e-6);
  });
});

describe("volumes and areas (Pappus' theorem: area of the section times the way of its centre)", () => {
  const torus = tube({ path: { kind: "through", points: circlePoints(96, 80), closed: true } });
  const helix = tube({ path: { kind: "through", points: sampled(241, helixAt, true), closed: false } });
  const frustum = tube({ radius: { shares: [0, 1], radii: [10, 2] } });

  it.each([
    ["torus R 80, r 5", torus, 39_478.4176],
    ["helix tube, r 5", helix, 122_080.2643],
    ["frustum r 10 to 2, h 120", frustum, 15_582.29956],
  ])("volume of the %s", (_, shape, wanted) => {
    expect(off(meshVolume(sweepTube(shape)), wanted)).toBeLessThan(0.0005);
    expect(off(meshVolume(sweepTube(shape, 0.01)), wanted)).toBeLessThan(0.0001);
  });

  it("surface of the torus and lateral surface of the frustum", () => {
    expect(off(meshArea(sweepTube(torus, 0.005)), 15_791.367)).toBeLessThan(0.001);
    const ends = Math.PI * (10 * 10 + 2 * 2);
    expect(off(meshArea(sweepTube(frustum, 0.005)) - ends, 4533.93537)).toBeLessThan(0.001);
  });

  it("volume and surface of an ellipsoid with the half axes 100, 77, 120 (Legendre's formula), as measured on a mesh", () => {
    const mesh = ellipsoid(100, 77, 120, 400);
    expect(off(meshVolume(mesh), 3_870_442.149)).toBeLessThan(0.0002);
    expect(off(meshArea(mesh), 122_441.608)).toBeLessThan(0.0002);
  });
});

describe("sections", () => {
  // Area of a regular n-gon: n/2·sin(2π/n); e.g. CRC Standard Mathematical Tables, regular polygons.
  it.each([
    [16, 0.9745],
    [24, 0.98862],
    [32, 0.99359],
    [64, 0.99839],
  ])("an inscribed %d-gon has %d of the circle's area, which the true-area factor gives back", (n, share) => {
    expect(1 / trueAreaFactor(n) ** 2).toBeCloseTo(share, 5);
  });
});

describe("rotation-minimising frames (Wang, Jüttler, Zheng, Liu 2008, ACM TOG 27(1) art. 2)", () => {
  // The frame turns against Frenet's by minus the integral of the torsion, 20 / (80² + 20²) per mm (Bishop 1975).
  const torsion = 20 / (80 * 80 + 20 * 20);
  const total = -torsion * 1554.374201;

  it("turns by -4.571688827 rad over three turns of the helix", () => {
    expect(total).toBeCloseTo(-4.571688827, 8);
    expect(turnErrors(1536).last).toBeLessThan(1e-10);
  });

  it.each([
    [24, 1.355e-4],
    [48, 8.386e-6],
    [96, 5.229e-7],
    [192, 3.266e-8],
  ])("double reflection over %d steps errs by %d rad: fourth order", (steps, wanted) => {
    expect(off(turnErrors(steps).greatest, wanted)).toBeLessThan(0.01);
  });

  it("comes back turned by -1.858487383 rad around the trefoil", () => {
    const count = 4096;
    const at = trefoilAt(80, 30);
    const points = Float64Array.from(sampled(count + 1, at, true).flat());
    const tangents = Float64Array.from(
      sampled(
        count + 1,
        (t) => {
          // The derivative of the formula.
          const angle = 2 * Math.PI * t;
          const out = 80 + 30 * Math.cos(3 * angle);
          const outwards = -90 * Math.sin(3 * angle);
          const v: Vec3 = [
            outwards * Math.cos(2 * angle) - 2 * out * Math.sin(2 * angle),
            outwards * Math.sin(2 * angle) + 2 * out * Math.cos(2 * angle),
            90 * Math.cos(3 * angle),
          ];
          const size = Math.hypot(...v);
          return [v[0] / size, v[1] / size, v[2] / size];
        },
        true,
      ).flat(),
    );
    const normals = rotationMinimisingNormals(points, tangents, [0, 0, 1]);
    const at3 = (a: Float64Array, i: number): Vec3 => [a[i * 3], a[i * 3 + 1], a[i * 3 + 2]];
    const closure = angleAbout(at3(tangents, 0), at3(normals, 0), at3(normals, count));
    expect(closure).toBeCloseTo(-1.858487383, 8);
  });

  function turnErrors(steps: number): { greatest: number; last: number } {
    const speed = Math.hypot(80, 20);
    const points = Float64Array.from(sampled(steps + 1, helixAt, true).flat());
    const tangents = new Float64Array(points.length);
    for (let i = 0; i <= steps; i++) {
      const angle = (6 * Math.PI * i) / steps;
      tangents.set([(-80 * Math.sin(angle)) / speed, (80 * Math.cos(angle)) / speed, 20 / speed], i * 3);
    }
    const normals = rotationMinimisingNormals(points, tangents, [-1, 0, 0]);
    let [greatest, last] = [0, 0];
    for (let i = 0; i <= steps; i++) {
      const angle = (6 * Math.PI * i) / steps;
      const a = i * 3;
      const turn = angleAbout(
        [tangents[a], tangents[a + 1], tangents[a + 2]],
        [-Math.cos(angle), -Math.sin(angle), 0],
        [normals[a], normals[a + 1], normals[a + 2]],
      );
      const error = turn + torsion * speed * angle;
      last = Math.abs(error - 2 * Math.PI * Math.round(error / (2 * Math.PI)));
      greatest = Math.max(greatest, last);
    }
    return { greatest, last };
  }
});

function helixAt(t: number): Vec3 {
  const angle = 6 * Math.PI * t;
  return [80 * Math.cos(angle), 80 * Math.sin(angle), 20 * angle];
}

function ellipsoid(a: number, b: number, c: number, rings: number): TriangleMesh {
  const positions: number[] = [];
  const triangles: number[] = [];
  const around = rings * 2;
  for (let i = 0; i <= rings; i++) {
    const polar = (Math.PI * i) / rings;
    for (let j = 0; j < around; j++) {
      const angle = (2 * Math.PI * j) / around;
      positions.push(
        a * Math.sin(polar) * Math.cos(angle),
        b * Math.sin(polar) * Math.sin(angle),
        c * Math.cos(polar),
      );
    }
  }
  for (let i = 0; i < rings; i++) {
    for (let j = 0; j < around; j++) {
      const [p, q] = [i * around + j, i * around + ((j + 1) % around)];
      triangles.push(p, p + around, q + around, p, q + around, q);
    }
  }
  return { positions: Float32Array.from(positions), triangles: Uint32Array.from(triangles) };
}
