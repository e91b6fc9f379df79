import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { distance, dot, type Vec3 } from "../../src/geometry/vector";
import {
  COARSE,
  FINE,
  HeadForm,
  hullPerimeter,
  LANDMARKS,
  measureLevel,
  measureMesh,
} from "../../src/head/index";
import { AVERAGE, headOf } from "./helpers";

const head = headOf(AVERAGE);

/** Counts each directed edge of a mesh, vertices welded by their exact 32-bit position. */
const directedEdges = (mesh: { positions: Float32Array; triangles: Uint32Array }): Map<string, number> => {
  const edges = new Map<string, number>();
  const key = (v: number): string =>
    `${mesh.positions[3 * v]},${mesh.positions[3 * v + 1]},${mesh.positions[3 * v + 2]}`;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    for (let k = 0; k < 3; k++) {
      const edge = `${key(mesh.triangles[t + k])}>${key(mesh.triangles[t + ((k + 1) % 3)])}`;
      edges.set(edge, (edges.get(edge) ?? 0) + 1);
    }
  }
  return edges;
};

const signedVolume = (mesh: { positions: Float32Array; triangles: Uint32Array }): number => {
  const p = mesh.positions;
  let sum = 0;
  for (let t = 0; t < mesh.triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k) => 3 * mesh.triangles[t + k]);
    sum +=
      p[a] * (p[b + 1] * p[c + 2] - p[b + 2] * p[c + 1]) -
      p[a + 1] * (p[b] * p[c + 2] - p[b + 2] * p[c]) +
      p[a + 2] * (p[b] * p[c + 1] - p[b + 1] * p[c]);
  }
  return sum / 6;
};

describe("the head form's mesh", () => {
  for (const [name, mesh] of [
    ["fine", head.mesh()],
    ["coarse", head.mesh(COARSE)],
    ["grown", head.grown({ offset: 1.3, hairThickness: 4 }).mesh(COARSE)],
  ] as const) {
    it(`is closed and oriented (${name})`, () => {
      const edges = directedEdges(mesh);
      for (const [edge, count] of edges) {
        const [from, to] = edge.split(">");
        expect(count).toBe(1);
        expect(edges.get(`${to}>${from}`)).toBe(1);
      }
    });

    it(`encloses a human head's volume, outward (${name})`, () => {
      // A head with neck holds some 4 to 5.5 litres (common practice, no source).
      expect(signedVolume(mesh) / 1e6).toBeGreaterThan(3.8);
      expect(signedVolume(mesh) / 1e6).toBeLessThan(6.5);
    });

    it(`mirrors exactly, left to right (${name})`, () => {
      const points = new Set<string>();
      for (let i = 0; i < mesh.positions.length; i += 3) {
        points.add(`${mesh.positions[i]},${mesh.positions[i + 1]},${mesh.positions[i + 2]}`);
      }
      for (let i = 0; i < mesh.positions.length; i += 3) {
        const x = mesh.positions[i] === 0 ? 0 : -mesh.positions[i];
        expect(points.has(`${x},${mesh.positions[i + 1]},${mesh.positions[i + 2]}`)).toBe(true);
      }
    });
  }

  it("has the number of triangles it says", () => {
    expect(head.mesh(FINE).triangles.length / 3).toBe(2 * FINE.columns * (FINE.rowsAbove + FINE.rowsBelow));
    const coarse = head.mesh(COARSE).triangles.length / 3;
    expect(coarse).toBeGreaterThan(4000);
    expect(coarse).toBeLessThan(8000);
  });

  it.each([
    ["fine", FINE, 0.15],
    ["coarse", COARSE, 0.25],
  ] as const)("keeps the %s mesh close to the surface on the cranium", (_name, resolution, margin) => {
    const mesh = head.mesh(resolution);
    const p = mesh.positions;
    let worst = 0;
    for (let t = 0; t < mesh.triangles.length; t += 3) {
      const corners = [0, 1, 2].map((k) => 3 * mesh.triangles[t + k]);
      const middle = [0, 1, 2].map((axis) => corners.reduce((sum, c) => sum + p[c + axis], 0) / 3);
      if (middle[2] < head.center[2]) continue;
      worst = Math.max(worst, Math.abs(head.signedDistance(middle as unknown as Vec3)));
    }
    expect(worst).toBeLessThan(margin);
  });
});

describe("the head form's shape", () => {
  const mesh = head.mesh();
  const top = 130;

  it("has each measure at its greatest in the girth plane, above the ears", () => {
    for (let depth = 20; depth <= 100; depth += 2) {
      const section = measureLevel(mesh, top - depth)!;
      expect(section.girth).toBeLessThan(570.2);
      expect(section.length).toBeLessThan(196.05);
      expect(section.breadth).toBeLessThan(152.05);
    }
    expect(head.measured.girthBelowCrown).toBeGreaterThan(86);
    expect(head.measured.girthBelowCrown).toBeLessThan(90);
  });

  it("is widest behind the middle", () => {
    let widest = head.pointAt({ azimuth: 90, elevation: 0 });
    for (let azimuth = 45; azimuth <= 135; azimuth++) {
      const point = head.pointAt({ azimuth, elevation: 0 });
      if (point[0] > widest[0]) widest = point;
    }
    const middle = (head.landmarks.brow[1] + head.landmarks.back[1]) / 2;
    expect(widest[1]).toBeLessThan(middle - 2);
  });

  it("has convex level sections above the girth", () => {
    for (let depth = 8; depth <= 88; depth += 8) {
      const points: [number, number][] = [];
      for (let azimuth = 0; azimuth < 360; azimuth += 2) {
        let low = -1;
        let high = 90;
        for (let k = 0; k < 40; k++) {
          const elevation = (low + high) / 2;
          if (head.pointAt({ azimuth, elevation })[2] < top - depth) low = elevation;
          else high = elevation;
        }
        const point = head.pointAt({ azimuth, elevation: low });
        points.push([point[0], point[1]]);
      }
      const around = points.reduce((sum, p, i) => {
        const q = points[(i + 1) % points.length];
        return sum + Math.hypot(q[0] - p[0], q[1] - p[1]);
      }, 0);
      expect(around - hullPerimeter(points)).toBeLessThan(1e-3);
    }
  });

  it("is smooth: the normal turns by less than 4 degrees a degree on the cranium", () => {
    for (let elevation = 0; elevation < 88; elevation += 4) {
      for (let azimuth = 0; azimuth < 360; azimuth += 5) {
        const a = head.normalAt({ azimuth, elevation });
        const b = head.normalAt({ azimuth, elevation: elevation + 1 });
        expect(Math.acos(Math.min(1, dot(a, b)))).toBeLessThan((4 * Math.PI) / 180);
      }
    }
  });

  it("keeps its measures as it grows by an offset (Steiner: 2π·d more girth)", () => {
    for (const offset of [0.95, 1.59, 2.07, 5]) {
      const grown = head.grown({ offset, hairThickness: 0 });
      const measured = measureMesh(grown.mesh());
      expect(Math.abs(measured.girth - 570 - 2 * Math.PI * offset)).toBeLessThan(0.3);
      expect(Math.abs(measured.length - 196 - 2 * offset)).toBeLessThan(0.1);
      expect(Math.abs(measured.breadth - 152 - 2 * offset)).toBeLessThan(0.1);
    }
  });

  it("grows hair only where hair grows", () => {
    const grown = head.grown({ offset: 1, hairThickness: 6 });
    const room = (azimuth: number, elevation: number): number =>
      head.signedDistance(grown.pointAt({ azimuth, elevation }));
    expect(room(0, 90)).toBeCloseTo(7, 2);
    expect(room(180, 20)).toBeCloseTo(7, 2);
    expect(room(90, 30)).toBeCloseTo(7, 2);
    expect(room(0, 5)).toBeCloseTo(1, 2);
    expect(room(40, -10)).toBeCloseTo(1, 2);
  });

  it("passes to another process and back unchanged", () => {
    const copy = HeadForm.fromData(structuredClone(head.toData()));
    expect(copy.mesh().positions).toEqual(mesh.positions);
    expect(copy.measured).toEqual(head.measured);
  });

  it("comes out the same, byte for byte, every time", () => {
    expect(headOf(AVERAGE).mesh().positions).toEqual(mesh.positions);
  });
});

describe("places on the head", () => {
  const surfaces = [
    ["bare", head],
    ["grown", head.grown({ offset: 1.3, hairThickness: 3 })],
  ] as const;
  for (const [name, surface] of surfaces) {
    it(`go to a point and back within 0.01 mm (${name})`, () => {
      fc.assert(
        fc.property(
          fc.double({ min: -180, max: 180, noNaN: true }),
          fc.double({ min: 0, max: 89.5, noNaN: true }),
          fc.double({ min: -10, max: 150, noNaN: true }),
          (azimuth, elevation, lift) => {
            const point = surface.pointAt({ azimuth, elevation, lift });
            const place = surface.coordinatesOf(point);
            expect(distance(surface.pointAt(place), point)).toBeLessThan(0.01);
            expect(Math.abs(place.lift - lift)).toBeLessThan(0.01);
          },
        ),
        { seed: 570, numRuns: 400 },
      );
    });

    it(`have unit normals that face outward (${name})`, () => {
      fc.assert(
        fc.property(
          fc.double({ min: -180, max: 180, noNaN: true }),
          fc.double({ min: -60, max: 90, noNaN: true }),
          (azimuth, elevation) => {
            const point = surface.pointAt({ azimuth, elevation });
            const normal = surface.normalAt({ azimuth, elevation });
            expect(Math.hypot(...normal)).toBeCloseTo(1, 9);
            const out = point.map((v, i) => v - surface.center[i]) as unknown as Vec3;
            expect(dot(normal, out)).toBeGreaterThan(0);
          },
        ),
        { seed: 571, numRuns: 300 },
      );
    });
  }

  it("lie where their angles say", () => {
    expect(head.pointAt({ azimuth: 0, elevation: 0 })[0]).toBeCloseTo(0, 9);
    expect(head.pointAt({ azimuth: 90, elevation: 0 })[0]).toBeGreaterThan(70);
    expect(head.pointAt({ azimuth: -90, elevation: 0 })[0]).toBeLessThan(-70);
    expect(head.pointAt({ azimuth: 180, elevation: 0 })[1]).toBeLessThan(-80);
    expect(head.pointAt({ azimuth: 0, elevation: 90 })[2]).toBeCloseTo(130, 6);
  });

  it("have the signed distance that the slow search over a fine mesh has", () => {
    const mesh = head.mesh({ columns: 360, rowsAbove: 120, rowsBelow: 60 });
    for (const point of [
      [60, 60, 120],
      [-90, -40, 60],
      [10, -120, 100],
      [5, 20, 110],
    ] as const) {
      let nearest = Number.POSITIVE_INFINITY;
      for (let i = 0; i < mesh.positions.length; i += 3) {
        nearest = Math.min(
          nearest,
          Math.hypot(
            mesh.positions[i] - point[0],
            mesh.positions[i + 1] - point[1],
            mesh.positions[i + 2] - point[2],
          ),
        );
      }
      // Vertices are at most about 1 mm from the true foot: off by less than 1² / (2 · nearest).
      expect(nearest - Math.abs(head.signedDistance(point))).toBeLessThan(0.06);
      expect(nearest - Math.abs(head.signedDistance(point))).toBeGreaterThan(-0.01);
      expect(head.nearest(point).distance).toBeCloseTo(head.signedDistance(point), 2);
    }
    expect(head.signedDistance([5, 20, 110])).toBeLessThan(0);
  });
});

describe("landmarks and lines", () => {
  it("lie on the surface, left mirroring right", () => {
    for (const name of LANDMARKS) {
      expect(Math.abs(head.signedDistance(head.landmarks[name]))).toBeLessThan(0.02);
    }
    for (const name of ["Temple", "Tragion", "Eye"] as const) {
      const [left, right] = [head.landmarks[`left${name}`], head.landmarks[`right${name}`]];
      expect(left[0]).toBeCloseTo(-right[0], 9);
      expect(left.slice(1)).toEqual(right.slice(1));
      expect(right[0]).toBeGreaterThan(0);
    }
  });

  it("put the frame where the design says: tragions at y = 0, z = 0, crown at its height", () => {
    expect(head.landmarks.rightTragion[1]).toBeCloseTo(0, 3);
    expect(head.landmarks.rightTragion[2]).toBeCloseTo(0, 3);
    expect(head.landmarks.crown[2]).toBeCloseTo(130, 6);
    expect(head.landmarks.brow[1] - head.landmarks.back[1]).toBeCloseTo(196, 3);
  });

  it("run the named lines where they should", () => {
    const girth = head.girthLine;
    const around = girth.points.reduce(
      (sum, p, i) => sum + distance(p, girth.points[(i + 1) % girth.points.length]),
      0,
    );
    expect(around).toBeGreaterThan(569.8);
    expect(around).toBeLessThanOrEqual(570.02);
    for (const point of head.sagittalLine.points) expect(point[0]).toBeCloseTo(0, 6);
    const coronal = head.coronalLine.points;
    expect(distance(coronal[0], head.landmarks.leftTragion)).toBeLessThan(1e-6);
    expect(distance(coronal[coronal.length - 1], head.landmarks.rightTragion)).toBeLessThan(1e-6);
    for (const point of head.hairline.points) expect(Math.abs(head.signedDistance(point))).toBeLessThan(0.05);
  });

  it("know their regions", () => {
    expect(head.isIn("crown", { azimuth: 20, elevation: 80 })).toBe(true);
    expect(head.isIn("hair", { azimuth: 0, elevation: 5 })).toBe(false);
    expect(head.isIn("brow", { azimuth: -5, elevation: 3 })).toBe(true);
    expect(head.isIn("rightSide", { azimuth: 95, elevation: 10 })).toBe(true);
    expect(head.isIn("leftSide", { azimuth: 95, elevation: 10 })).toBe(false);
    expect(head.isIn("nape", { azimuth: 190, elevation: -40 })).toBe(true);
    expect(head.isIn("face", { azimuth: 10, elevation: -30 })).toBe(true);
    const ear = head.coordinatesOf(head.landmarks.rightTragion);
    expect(head.isIn("rightEar", { azimuth: ear.azimuth + 12, elevation: ear.elevation })).toBe(true);
  });

  it("pull the shortest line tight over the surface", () => {
    const from = { azimuth: 30, elevation: 10 };
    const to = { azimuth: 150, elevation: 15 };
    const line = head.lineBetween(from, to);
    const lengthOf = (points: readonly Vec3[]): number =>
      points.slice(1).reduce((sum, p, i) => sum + distance(points[i], p), 0);
    const straightInAngles = head.trace(
      Array.from({ length: 33 }, (_, i) => ({ azimuth: 30 + (120 * i) / 32, elevation: 10 + (5 * i) / 32 })),
      false,
    );
    expect(lengthOf(line.points as Vec3[])).toBeLessThan(lengthOf(straightInAngles.points as Vec3[]));
    expect(distance(line.points[0] as Vec3, head.pointAt(from))).toBeLessThan(1e-9);
    expect(distance(line.points[32] as Vec3, head.pointAt(to))).toBeLessThan(1e-9);
    for (const point of line.points) expect(Math.abs(head.signedDistance(point))).toBeLessThan(0.03);
    // A geodesic's own curvature is normal to the surface.
    for (let i = 8; i < 25; i++) {
      const [a, b, c] = [line.points[i - 4], line.points[i], line.points[i + 4]] as Vec3[];
      const bend = [0, 1, 2].map((k) => a[k] + c[k] - 2 * b[k]) as unknown as Vec3;
      const { normal } = head.nearest(b);
      const along = dot(bend, normal);
      const across = Math.sqrt(Math.max(0, dot(bend, bend) - along * along));
      expect(across / Math.hypot(...bend)).toBeLessThan(0.12);
    }
  });
});
