import { describe, expect, it } from "vitest";
import type { TriangleMesh } from "../../src/geometry/mesh";
import type { Vec3 } from "../../src/geometry/vector";
import { printHours } from "../../src/print/orientation/printHours";
import { QuickOrientation } from "../../src/print/orientation/quickFigures";
import { upOf } from "../../src/print/placedPiece";
import { box, turned } from "../checks/shapes";
import { ofOnePart, printer, search, settings } from "../print/orientation/orientationRig";

/** Which way up bodies with known answers are printed, and their closed forms, by hand. */

const quickOf = (mesh: TriangleMesh, changes = {}) =>
  new QuickOrientation({ mesh: ofOnePart(mesh), printer, settings: { ...settings, ...changes } });

/** Half a ball, its flat side down. */
const dome = (radius: number): TriangleMesh =>
  turned(
    [
      [0, 0],
      ...Array.from({ length: 33 }, (_, k): [number, number] => {
        const angle = (Math.PI / 2) * (k / 32);
        return [k === 32 ? 0 : radius * Math.cos(angle), radius * Math.sin(angle)];
      }),
    ],
    96,
  );

describe("the best way up of bodies whose answer is known", () => {
  const up = (mesh: TriangleMesh, options = {}): Vec3 => upOf(search(mesh, options).best.orientation);

  it("half a ball stands on its flat side: there nothing but its foot leans out", () => {
    const best = search(dome(40)).best;
    expect(upOf(best.orientation)[2]).toBeCloseTo(1, 9);
    expect(best.figures.supportVolume).toBe(0);
    expect(best.figures.footprint / (Math.PI * 40 ** 2)).toBeCloseTo(1, 2);
  });

  it("a cone stands on its base, whichever way it was designed", () => {
    const cone: [number, number][] = [
      [0, 0],
      [30, 0],
      [0, 80],
    ];
    expect(up(turned(cone, 64))[2]).toBeCloseTo(1, 9);
    const onItsTip: [number, number][] = [
      [0, 0],
      [30, 80],
      [0, 80],
    ];
    expect(up(turned(onItsTip, 64))[2]).toBeCloseTo(-1, 9);
  });

  it("a flat plate lies, and a long rod lies down", () => {
    expect(Math.abs(up(box([0, 0, 0], [4, 100, 120]))[0])).toBeCloseTo(1, 9);
    expect(Math.abs(up(box([0, 0, 0], [12, 12, 200]))[2])).toBeCloseTo(0, 9);
  });

  it("an L of one thickness lies on its side: no support, and the lowest of what needs none", () => {
    const points: Vec3[] = [];
    const outline = [
      [0, 0],
      [80, 0],
      [80, 12],
      [12, 12],
      [12, 60],
      [0, 60],
    ] as const;
    for (const y of [20, 0]) for (const [x, z] of outline) points.push([x, y, z]);
    const triangles: number[] = [];
    for (const [a, b, c] of [
      [0, 1, 2],
      [0, 2, 3],
      [0, 3, 4],
      [0, 4, 5],
    ]) {
      triangles.push(6 + a, 6 + b, 6 + c, a, c, b);
    }
    for (let i = 0; i < 6; i++) {
      const j = (i + 1) % 6;
      triangles.push(i, j, 6 + j, i, 6 + j, 6 + i);
    }
    const ell = { positions: Float32Array.from(points.flat()), triangles: Uint32Array.from(triangles) };
    expect(quickOf(ell).clusters.volume).toBeCloseTo(20 * (80 * 12 + 12 * 48), 2);
    const { best } = search(ell);
    expect(Math.abs(upOf(best.orientation)[1])).toBeCloseTo(1, 9);
    expect(best.figures.supportVolume).toBe(0);
    expect(best.figures.height).toBeCloseTo(20, 3);
  });
});

describe("closed forms of a direction, by hand", () => {
  it("of a ball: sides π²·R², held cap, support to the plate", () => {
    // Radius R, middle at R. Sides: ∫ perimeter dz = ∫ 2π√(R² − z²) dz = π²·R². Below 45° from the bottom the cap leans
    // out: area 2π·R²·(1 − cos 45°), seen from above π·R²/2; from it down to the plate the cylinder of that circle less
    // the cap of the ball: π·R²/2·R − ∫₀^{π/4} R·cos θ·2π·R²·sin θ·cos θ dθ = π·R³/2 − (2π·R³/3)·(1 − cos³ 45°).
    const R = 40;
    const ball = turned(
      Array.from({ length: 181 }, (_, k): [number, number] => {
        const angle = (Math.PI * k) / 180;
        return [k === 0 || k === 180 ? 0 : R * Math.sin(angle), -R * Math.cos(angle)];
      }),
      240,
    );
    const cosine = Math.SQRT1_2;
    const volume = (Math.PI * R ** 3) / 2 - ((2 * Math.PI * R ** 3) / 3) * (1 - cosine ** 3);
    const flat = (Math.PI * R ** 2) / 2;
    const quick = quickOf(ball, { supportGap: 0 });
    for (const up of [
      [0, 0, 1],
      [0.6, 0, 0.8],
      [0, -1, 0],
    ] as Vec3[]) {
      const { sums, contactArea, footprint, height } = quick.figures(up);
      expect(height / (2 * R)).toBeCloseTo(1, 2);
      expect(sums.sides / (Math.PI ** 2 * R ** 2)).toBeCloseTo(1, 2);
      expect(sums.heldArea / (flat - footprint)).toBeCloseTo(1, 1);
      expect(contactArea / (2 * Math.PI * R ** 2 * (1 - cosine) * (1 - footprint / flat))).toBeCloseTo(1, 1);
      expect(sums.supportVolume / volume).toBeGreaterThan(0.95);
      expect(sums.supportVolume / volume).toBeLessThan(1.05);
    }
  });

  it("of a table: its top is held up by the room under it", () => {
    // A post of 20 × 20 × 30 under a top of 60 × 60 × 10, as one outline turned is not: two boxes that touch.
    const post = box([-10, -10, 0], [10, 10, 30]);
    const top = box([-30, -30, 30], [30, 30, 40]);
    const held = 60 * 60;
    const apart = quickOf(top, { supportGap: 0 });
    expect(apart.figures([0, 0, 1]).supportVolume).toBeCloseTo(0, 6);
    const joined = {
      positions: Float32Array.from([...post.positions, ...top.positions]),
      triangles: Uint32Array.from([...post.triangles, ...[...top.triangles].map((v) => v + 8)]),
    };
    // Its post, not being united with it, is counted as room: the whole underside times 30 mm.
    const { supportVolume, footprint } = quickOf(joined, { supportGap: 0 }).figures([0, 0, 1]);
    expect(footprint).toBeCloseTo(20 * 20, 3);
    expect(supportVolume).toBeCloseTo(held * 30, 0);
  });

  it("hours of a box: lengths by speeds, layers by their change", () => {
    // A box 50 × 40 × 20 upright at 0.2 mm: 100 layers. Outlines 2·(50 + 40)·20 = 3600 mm². Shells of 0.45 mm: outer 1620 mm³,
    // inner two 3240 mm³. Filled: 5 + 4 layers of 2000 mm² = 3600 mm³. Of the rest, 40000 − 1620 − 3240 − 3600 = 31540, 15 %.
    // A line is 0.09 mm² thick; at 12 mm³/s it could run at 133 mm/s, so that the speeds hold.
    const { sums, hours } = quickOf(box([0, 0, 0], [50, 40, 20])).figures([0, 0, 1]);
    expect(sums.volume).toBeCloseTo(40000, 3);
    expect(sums.sides).toBeCloseTo(3600, 3);
    expect(sums.skins).toBeCloseTo(3600, 3);
    const seconds = 1620 / 0.09 / 40 + 3240 / 0.09 / 60 + 3600 / 0.09 / 60 + (0.15 * 31540) / 0.09 / 80;
    expect(hours * 3600).toBeCloseTo(300 + 100 * 1 + seconds, 1);
    // A hot end that melts 2.7 mm³/s lets no line run faster than 30 mm/s.
    const slow = { ...printer, flowLimit: 2.7 };
    const printed = 1620 + 3240 + 3600 + 0.15 * 31540;
    expect(printHours(sums, settings, slow) * 3600).toBeCloseTo(300 + 100 + printed / 2.7, 1);
    // A least time of a layer of 60 s: 100 layers take 6000 s.
    expect(printHours(sums, { ...settings, leastLayerTime: 60 }, printer) * 3600).toBeCloseTo(6400, 6);
  });

  it("hours of support: its share, and dense layers under what is held up", () => {
    const sums = {
      volume: 1000,
      sides: 0,
      skins: 1000,
      height: 20,
      supportVolume: 9000,
      heldArea: 500,
    };
    // Dense: 500 mm² · 3 layers of 0.2 mm = 300 mm³ at 80 %; the other 8700 mm³ at 20 %.
    const support = (0.2 * 8700) / 0.09 / 60 + (0.8 * 300) / 0.09 / 40;
    const piece = 1000 / 0.09 / 60;
    const seconds = printHours(sums, { ...settings, leastLayerTime: 0 }, printer) * 3600;
    expect(seconds).toBeCloseTo(300 + 100 + piece + support, 6);
  });
});
