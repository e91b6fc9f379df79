import { describe, expect, it } from "vitest";
import { Random } from "../../../src/design/random";
import type { PartMesh } from "../../../src/geometry/mesh";
import { normalize, type Vec3 } from "../../../src/geometry/vector";
import { evenDirections } from "../../../src/print/orientation/directions";
import { QuickOrientation } from "../../../src/print/orientation/quickFigures";
import { shareBelow } from "../../../src/print/orientation/standingFaces";
import { shownShare } from "../../../src/print/orientation/visibility";
import { box, ellipsoid, moved, together, torus } from "../../checks/shapes";
import { ofOnePart, printer, settings, turnedAbout } from "./orientationRig";

/** Triangle by triangle, as it is defined. */
function slowly(mesh: PartMesh, up: Vec3) {
  const { positions: p, triangles } = mesh;
  const height = (v: number) => p[3 * v] * up[0] + p[3 * v + 1] * up[1] + p[3 * v + 2] * up[2];
  let [bottom, top] = [Infinity, -Infinity];
  for (const v of triangles) {
    bottom = Math.min(bottom, height(v));
    top = Math.max(top, height(v));
  }
  const found = { sides: 0, volume: 0, held: 0, shown: 0, heldFlat: 0, envelope: 0, skins: 0, onPlate: 0 };
  const limit = Math.sin((settings.overhangAngle * Math.PI) / 180) + 5e-4;
  const wall = settings.shells * settings.lineWidth;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [0, 1, 2].map((k): Vec3 => {
      const v = 3 * triangles[t + k];
      return [p[v], p[v + 1], p[v + 2]];
    });
    const u = [0, 1, 2].map((i) => b[i] - a[i]);
    const w = [0, 1, 2].map((i) => c[i] - a[i]);
    const n = [u[1] * w[2] - u[2] * w[1], u[2] * w[0] - u[0] * w[2], u[0] * w[1] - u[1] * w[0]];
    const twice = Math.hypot(...n);
    if (twice === 0) continue;
    const area = twice / 2;
    const unit = n.map((value) => value / twice) as unknown as Vec3;
    const rise = unit[0] * up[0] + unit[1] * up[1] + unit[2] * up[2];
    const middle = [0, 1, 2].map((i) => (a[i] + b[i] + c[i]) / 3) as unknown as Vec3;
    const flat = Math.sqrt(Math.max(0, 1 - rise * rise));
    found.sides += area * flat;
    found.volume += ((n[0] * a[0] + n[1] * a[1] + n[2] * a[2]) / 6) as number;
    const layers = (rise > 0 ? settings.topLayers : settings.bottomLayers) * settings.layerHeight;
    found.skins += area * Math.max(0, layers * Math.abs(rise) - wall * flat);
    const heights = [0, 1, 2].map((k) => height(triangles[t + k]) - bottom);
    if (rise < -0.5) {
      found.onPlate -= rise * area * shareBelow(heights[0], heights[1], heights[2], settings.layerHeight);
    }
    if (-rise <= limit) continue;
    found.held += area;
    found.shown += area * shownShare(middle, unit, mesh.partOfTriangle[t / 3] < 0);
    found.heldFlat -= area * rise;
    found.envelope -= (area * rise * (heights[0] + heights[1] + heights[2])) / 3;
  }
  return { ...found, height: top - bottom };
}

const bodies = (random: Random): PartMesh =>
  ofOnePart(
    together(
      ...Array.from({ length: 5 }, () => {
        const axis = normalize([random.between(-1, 1), random.between(-1, 1), random.between(-1, 1)]);
        const body = [
          () => torus(random.between(20, 60), random.between(4, 12), 48, 20),
          () => ellipsoid(random.between(8, 40), random.between(8, 40), random.between(8, 40), 24, 32),
          () => box([0, 0, 0], [random.between(5, 60), random.between(5, 60), random.between(5, 60)]),
        ][Math.floor(random.between(0, 3))]();
        const by: Vec3 = [random.between(-40, 40), random.between(-40, 40), random.between(20, 120)];
        return moved(turnedAbout(body, axis, random.between(0, 6)), by);
      }),
    ),
  );

describe("figures of a direction in closed form", () => {
  it("are those of every triangle taken by itself, within 2 % over the sphere", () => {
    const seed = 20;
    const random = new Random(seed);
    for (let round = 0; round < 5; round++) {
      const mesh = bodies(random);
      const quick = new QuickOrientation({ mesh, printer, settings });
      const exact = evenDirections(60).map((up) => ({ up, slow: slowly(mesh, up), fast: quick.figures(up) }));
      const told = `seed ${seed}, round ${round}`;
      const largest = (of: (one: (typeof exact)[number]) => number) => Math.max(...exact.map(of));
      for (const { slow, fast } of exact) {
        const { sums } = fast;
        expect(Math.abs(sums.volume / slow.volume - 1), told).toBeLessThan(1e-6);
        expect(Math.abs(sums.sides / slow.sides - 1), told).toBeLessThan(0.005);
        expect(Math.abs(sums.skins / slow.skins - 1), told).toBeLessThan(0.015);
        expect(Math.abs(fast.height - slow.height), told).toBeLessThan(0.5);
        const heldFlat = slow.heldFlat - slow.onPlate;
        const volume = slow.envelope - settings.supportGap * heldFlat;
        expect(Math.abs(fast.supportVolume - volume), told).toBeLessThan(
          0.02 * largest(({ slow: { envelope } }) => envelope),
        );
        const lifted = 1 - slow.onPlate / slow.heldFlat;
        expect(Math.abs(fast.contactArea - slow.held * lifted), told).toBeLessThan(
          0.02 * largest(({ slow: { held } }) => held),
        );
        expect(Math.abs(fast.scars - slow.shown * lifted), told).toBeLessThan(
          0.02 * largest(({ slow: { shown } }) => shown),
        );
      }
    }
  });

  it("know what stands on the plate: a box's faces, a ball's cap of a layer", () => {
    const sides: Vec3 = [30, 40, 50];
    const quick = new QuickOrientation({ mesh: ofOnePart(box([0, 0, 0], sides)), printer, settings });
    expect(quick.figures([0, 0, 1]).footprint).toBeCloseTo(30 * 40, 3);
    expect(quick.figures([1, 0, 0]).footprint).toBeCloseTo(40 * 50, 3);
    expect(quick.figures([0, -1, 0]).footprint).toBeCloseTo(30 * 50, 3);
    expect(quick.figures([0, 0, 1]).contactArea).toBeCloseTo(0, 6);
    expect(quick.figures([0, 0, 1]).supportVolume).toBeCloseTo(0, 6);
    // A ball of radius R is cut at height h by a circle of π·(2·R·h − h²).
    const ball = new QuickOrientation({
      mesh: ofOnePart(ellipsoid(50, 50, 50, 180, 240)),
      printer,
      settings: { ...settings, layerHeight: 0.5 },
    });
    expect(ball.figures([0, 0, 1]).footprint / (Math.PI * (2 * 50 * 0.5 - 0.25))).toBeCloseTo(1, 1);
  });

  it("take the share of a triangle below a level as its clipped area", () => {
    // Heights 0, 1, 3: below 1 the area is to the whole as 1/3, below 2 as 1 − (1/3)·(1/2).
    expect(shareBelow(0, 1, 3, 1)).toBeCloseTo(1 / 3, 12);
    expect(shareBelow(3, 0, 1, 2)).toBeCloseTo(1 - 1 / 6, 12);
    expect(shareBelow(0, 0, 1, 0.5)).toBeCloseTo(3 / 4, 12);
    expect(shareBelow(0, 1, 1, 0.5)).toBeCloseTo(1 / 4, 12);
    expect(shareBelow(2, 2, 2, 1)).toBe(0);
    expect(shareBelow(2, 2, 2, 2)).toBe(1);
  });

  it("hold nothing up where no support is printed or nothing leans out too far", () => {
    const mesh = ofOnePart(ellipsoid(20, 20, 20, 24, 32));
    const without = new QuickOrientation({ mesh, printer, settings: { ...settings, supportShare: 0 } });
    const bold = new QuickOrientation({ mesh, printer, settings: { ...settings, overhangAngle: 90 } });
    for (const quick of [without, bold]) {
      expect(quick.figures([0, 0, 1])).toMatchObject({ supportVolume: 0, contactArea: 0, scars: 0 });
      expect(quick.figures([0, 0, 1]).footprint).toBeGreaterThan(0);
    }
  });

  it("weigh scars by how they show: outside before inside, front before back, the hollow never", () => {
    const front = shownShare([0, 90, 64], [0, 1, 0], false);
    expect(front).toBe(1);
    expect(shownShare([0, -90, 64], [0, -1, 0], false)).toBeCloseTo(0.6, 12);
    expect(shownShare([90, 0, 64], [1, 0, 0], false)).toBeCloseTo(0.8, 12);
    expect(shownShare([0, 90, 64], [0, -1, 0], false)).toBeCloseTo(0.2, 12);
    expect(shownShare([0, 90, 64], [0, 1, 0], true)).toBe(0);
  });

  it("refuse a mesh that is none", () => {
    const make = (mesh: PartMesh) => () => new QuickOrientation({ mesh, printer, settings });
    const none = { positions: new Float32Array(0), triangles: new Uint32Array(0) };
    expect(make(ofOnePart(none))).toThrow(/no triangles/);
    const broken = box([0, 0, 0], [1, 1, 1]);
    broken.positions[4] = Number.NaN;
    expect(make(ofOnePart(broken))).toThrow(RangeError);
    expect(make(ofOnePart(box([0, 0, 0], [0, 0, 0])))).toThrow(RangeError);
  });
});

describe("directions", () => {
  it("are spread evenly: 500 leave no gap wider than 7.5°, and their mean is nought", () => {
    const all = evenDirections(500);
    const random = new Random(3);
    for (let i = 0; i < 2000; i++) {
      const z = random.between(-1, 1);
      const turn = random.between(0, 2 * Math.PI);
      const d: Vec3 = [Math.sqrt(1 - z * z) * Math.cos(turn), Math.sqrt(1 - z * z) * Math.sin(turn), z];
      const nearest = Math.max(...all.map((e) => d[0] * e[0] + d[1] * e[1] + d[2] * e[2]));
      expect((Math.acos(Math.min(1, nearest)) * 180) / Math.PI).toBeLessThan(7.5);
    }
    for (let axis = 0; axis < 3; axis++) {
      expect(Math.abs(all.reduce((sum, d) => sum + d[axis], 0) / 500)).toBeLessThan(0.002);
    }
  });
});
