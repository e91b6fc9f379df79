import { describe, expect, it } from "vitest";
import { layerSections } from "../../../src/print/layers/layerSections";
import { fillLayers, planLayers } from "../../../src/print/layers/planLayers";
import { insideOut, box as plainBox, turned } from "../../checks/shapes";
import { placed, printer, settings, total } from "./bodies";

/** Time of a run that reaches its top speed: all of it at that speed, and what speeding up and braking lose. */
const longRun = (length: number, from: number, to: number, top: number, a = 1000) =>
  length / top + (top - from) ** 2 / (2 * a * top) + (top - to) ** 2 / (2 * a * top);

/** Within a share of what is expected. */
const within = (value: number, expected: number, share: number) =>
  expect(Math.abs(value / expected - 1), `${value} against ${expected}`).toBeLessThan(share);

const box = placed(plainBox([0, 0, 0], [40, 30, 20]));

describe("a box of 40 × 30 × 20 mm by hand", () => {
  // Lines of 0.45 mm: three shells leave (40 − 2.7) × (30 − 2.7).
  const core = 37.3 * 27.3;
  const coreOutline = 2 * (37.3 + 27.3);
  const outer = 2 * (40 + 30) - 4 * 0.45;
  const inner = (39.1 * 29.1 - core) / 0.45;
  const plan = planLayers(box, settings, printer);
  const isSkin = (layer: number) => layer < 4 || layer >= 95;
  const each = (check: (layer: number) => void) => {
    for (let layer = 0; layer < 100; layer++) check(layer);
  };

  it("has 100 layers, each of 1200 mm² and 140 mm around", () => {
    expect(plan.count).toBe(100);
    each((layer) => {
      expect(plan.area[layer]).toBeCloseTo(1200, 4);
      expect(plan.perimeter[layer]).toBeCloseTo(140, 4);
    });
  });

  it("shells and infill are as long as their areas over the line width", () => {
    each((layer) => {
      expect(plan.lengths.outerShell[layer]).toBeCloseTo(outer, 3);
      // Two rectangles, each half a line in: 2 · (38.65 + 28.65) and 2 · (37.75 + 27.75).
      expect(inner).toBeCloseTo(2 * (38.65 + 28.65) + 2 * (37.75 + 27.75), 9);
      expect(plan.lengths.innerShell[layer]).toBeCloseTo(inner, 3);
      expect(plan.lengths.solidInfill[layer]).toBeCloseTo(isSkin(layer) ? core / 0.45 : 0, 3);
      expect(plan.lengths.sparseInfill[layer]).toBeCloseTo(isSkin(layer) ? 0 : (core * 0.15) / 0.45, 3);
    });
  });

  it("time: loops by corners, lines of infill by Crofton's count, the first layer slowly", () => {
    // Along a loop: the first run from rest, the last to rest, corners at 8 mm/s. Four runs, 138.2 mm.
    const loop = (length: number, speed: number) =>
      longRun(length / 4, 0, 8, speed) +
      2 * longRun(length / 4, 8, 8, speed) +
      longRun(length / 4, 8, 0, speed);
    const lines = (apart: number, speed: number) => {
      const number = coreOutline / (Math.PI * apart);
      return number * longRun(core / apart / number, 8, 8, speed);
    };
    each((layer) => {
      const speed = (kind: number) => (layer === 0 ? 20 : kind);
      const { seconds } = plan;
      expect(seconds.outerShell[layer]).toBeCloseTo(loop(outer, speed(40)), 3);
      expect(seconds.innerShell[layer]).toBeCloseTo(2 * loop(inner / 2, speed(60)), 3);
      expect(seconds.solidInfill[layer]).toBeCloseTo(isSkin(layer) ? lines(0.45, speed(70)) : 0, 3);
      expect(seconds.sparseInfill[layer]).toBeCloseTo(isSkin(layer) ? 0 : lines(3, 80), 3);
      expect(seconds.layerChange[layer]).toBe(0.6);
      expect(seconds.waiting[layer]).toBe(0);
    });
  });

  it("ways: from shell to shell, from line to line", () => {
    const number = (apart: number) => coreOutline / (Math.PI * apart);
    // Two hops of a line width between three shells; infill lines 3 mm apart.
    expect(plan.travel[50]).toBeCloseTo(2 * 0.45 + (number(3) - 1) * 3, 3);
    // 0.45 mm from rest to rest at 1000 mm/s²: 2 √(0.45 / 1000); 3 mm from 8 mm/s: peak √(3000 + 64).
    const hop = (2 * (Math.sqrt(3064) - 8)) / 1000;
    expect(plan.seconds.travel[50]).toBeCloseTo(2 * 2 * Math.sqrt(0.00045) + (number(3) - 1) * hop, 3);
  });

  it("the flow limit slows: 1.8 mm³/s over 0.09 mm² are 20 mm/s", () => {
    const slow = planLayers(box, settings, { ...printer, flowLimit: 1.8 });
    expect(slow.seconds.innerShell[50]).toBeCloseTo(plan.seconds.innerShell[0], 6);
    expect(slow.seconds.outerShell[50]).toBeCloseTo(plan.seconds.outerShell[0], 6);
  });

  it("waits until the layer has taken its least time", () => {
    const waiting = planLayers(box, { ...settings, leastLayerTime: 60 }, printer);
    each((layer) => {
      const seconds = Object.values(waiting.seconds).reduce((sum, kind) => sum + kind[layer], 0);
      expect(seconds).toBeCloseTo(Math.max(60, seconds), 9);
      expect(waiting.seconds.waiting[layer]).toBeGreaterThanOrEqual(0);
    });
    expect(waiting.seconds.waiting[50]).toBeGreaterThan(0);
  });

  it("a brim is what lies within its width (Steiner: outline × width + π × width²), in long loops", () => {
    const rimmed = planLayers(box, { ...settings, brimWidth: 4.5 }, printer);
    const length = (140 * 4.5 + Math.PI * 4.5 ** 2) / 0.45;
    expect(rimmed.lengths.brim[0]).toBeCloseTo(length, 0);
    expect(rimmed.seconds.brim[0]).toBeCloseTo(10 * longRun(length / 10, 0, 0, 20), 1);
    expect(total(rimmed.lengths.brim)).toBe(rimmed.lengths.brim[0]);
    expect(total(rimmed.wasteVolume)).toBeCloseTo(length * 0.09, 0);
    expect(total(rimmed.pieceVolume)).toBeCloseTo(total(plan.pieceVolume), 9);
  });

  it("no skins, no solid infill; one shell, no inner shell", () => {
    const bare = planLayers(box, { ...settings, topLayers: 0, bottomLayers: 0, shells: 1 }, printer);
    expect(total(bare.lengths.solidInfill)).toBe(0);
    expect(total(bare.lengths.innerShell)).toBe(0);
    expect(bare.lengths.sparseInfill[0]).toBeCloseTo((39.1 * 29.1 * 0.15) / 0.45, 3);
  });

  it("supports: their areas times their share over the line width, lines by the chords of square places", () => {
    const layers = (value: number) => new Float64Array(100).fill(value);
    const support = { support: layers(200), contact: layers(50), places: layers(10) };
    const held = planLayers(box, settings, printer, support);
    expect(held.lengths.support[50]).toBeCloseTo((200 * 0.2) / 0.45, 9);
    expect(held.lengths.contact[50]).toBeCloseTo((50 * 0.8) / 0.45, 9);
    // Ten squares of 25 mm²: mean chord π · 25 / 20 mm; 75 mm/s is not reached: √(1000 · chord + 64).
    const chord = (Math.PI * 25) / 20;
    const peak = Math.sqrt(1000 * chord + 64);
    expect(peak).toBeLessThan(75);
    const lines = (200 * 0.2) / 0.45 / chord;
    expect(held.seconds.support[50]).toBeCloseTo((lines * 2 * (peak - 8)) / 1000, 6);
    expect(held.wasteVolume[50]).toBeCloseTo((held.lengths.support[50] + held.lengths.contact[50]) * 0.09, 9);
    expect(held.pieceVolume[50]).toBe(plan.pieceVolume[50]);
    expect(held.travel[50]).toBeGreaterThan(plan.travel[50]);
  });
});

describe("a square tube, 30 mm wide with a hole of 20 mm, by hand", () => {
  const outside = plainBox([0, 0, 0], [30, 30, 20]);
  const tube = (wall: number) => {
    const hole = insideOut(plainBox([wall, wall, -5], [30 - wall, 30 - wall, 25]));
    // Its side walls alone: four upright faces each, joined by two frames.
    return frameOf(outside, hole);
  };

  it("walls of 5 mm: shells on both sides, what is left between them filled", () => {
    const plan = planLayers(placed(tube(5)), settings, printer);
    const inset = (by: number) => (30 - 2 * by) ** 2 - (20 + 2 * by) ** 2;
    expect(plan.area[50]).toBeCloseTo(500, 4);
    expect(plan.perimeter[50]).toBeCloseTo(200, 4);
    expect(plan.lengths.outerShell[50]).toBeCloseTo((500 - inset(0.45)) / 0.45, 3);
    expect(plan.lengths.innerShell[50]).toBeCloseTo((inset(0.45) - inset(1.35)) / 0.45, 3);
    expect(plan.lengths.sparseInfill[50]).toBeCloseTo((inset(1.35) * 0.15) / 0.45, 3);
    expect(plan.lengths.solidInfill[50]).toBe(0);
    expect(plan.lengths.solidInfill[0]).toBeCloseTo(inset(1.35) / 0.45, 3);
  });

  it("walls of 2 mm: all shell, nothing lost, nothing inside", () => {
    const plan = planLayers(placed(tube(2)), settings, printer);
    const area = 30 * 30 - 26 * 26;
    expect(plan.lengths.outerShell[50]).toBeCloseTo((area - (29.1 ** 2 - 26.9 ** 2)) / 0.45, 3);
    // Along lines, not exactly: the curves of both sides cross.
    within((plan.lengths.outerShell[50] + plan.lengths.innerShell[50]) * 0.45, area, 0.01);
    expect(total(plan.pieceVolume)).toBeLessThanOrEqual(area * 20 * 1.00001);
    expect(total(plan.pieceVolume)).toBeGreaterThan(area * 20 * 0.985);
  });
});

/** A box with a square hole from floor to roof, of the corners of both. */
function frameOf(outside: ReturnType<typeof plainBox>, hole: ReturnType<typeof plainBox>) {
  const positions = Float32Array.of(
    ...outside.positions,
    ...hole.positions.map((v, i) => (i % 3 === 2 ? (v < 0 ? 0 : 20) : v)),
  );
  const walls = (base: number) =>
    [
      [0, 1, 5],
      [0, 5, 4],
      [1, 2, 6],
      [1, 6, 5],
      [2, 3, 7],
      [2, 7, 6],
      [3, 0, 4],
      [3, 4, 7],
    ].map((t) => t.map((v) => v + base));
  const triangles: number[][] = [...walls(0), ...walls(8).map(([a, b, c]) => [b, a, c])];
  for (let i = 0; i < 4; i++) {
    const j = (i + 1) % 4;
    triangles.push([j, i, i + 8], [j, i + 8, j + 8], [i + 4, j + 4, j + 12], [i + 4, j + 12, i + 12]);
  }
  return { positions, triangles: Uint32Array.from(triangles.flat()) };
}

describe("round bodies by their formulas", () => {
  it("a cylinder of radius 20 and height 30", () => {
    const cylinder = turned(
      [
        [0, 0],
        [20, 0],
        [20, 30],
        [0, 30],
      ],
      180,
    );
    const plan = planLayers(placed(cylinder), settings, printer);
    const ring = (a: number, b: number) => Math.PI * (a * a - b * b);
    const near = (value: number, expected: number) => within(value, expected, 0.0015);
    expect(plan.count).toBe(150);
    for (const layer of [4, 70, 144]) {
      near(plan.lengths.outerShell[layer], ring(20, 19.55) / 0.45);
      near(plan.lengths.innerShell[layer], ring(19.55, 18.65) / 0.45);
      near(plan.lengths.sparseInfill[layer], (ring(18.65, 0) * 0.15) / 0.45);
      // A bend has no corner: one run from rest to rest.
      near(plan.seconds.outerShell[layer], longRun(ring(20, 19.55) / 0.45, 0, 0, 40));
    }
    near(plan.lengths.solidInfill[3], ring(18.65, 0) / 0.45);
    near(plan.lengths.solidInfill[145], ring(18.65, 0) / 0.45);
    expect(plan.lengths.solidInfill[4]).toBe(0);
  });

  it("a flat cone: skins where the slices above do not cover", () => {
    // Radius 60, height 30: 2 mm in for each 1 mm up; five layers up 2 mm less in radius, shells take 1.35 mm.
    const cone = turned(
      [
        [0, 0],
        [60, 0],
        [0, 30],
      ],
      360,
    );
    const plan = planLayers(placed(cone), settings, printer);
    let [allSolid, allSparse] = [0, 0];
    for (let layer = 5; layer < 130; layer++) {
      const r = 60 - 2 * (layer + 0.5) * 0.2;
      expect(plan.area[layer] / (Math.PI * r * r)).toBeCloseTo(1, 3);
      const solid = Math.PI * ((r - 1.35) ** 2 - (r - 2) ** 2);
      const sparse = Math.PI * (r - 2) ** 2;
      // A ring 0.65 mm wide, measured along lines 0.45 mm apart.
      within(plan.lengths.solidInfill[layer], solid / 0.45, 0.1);
      within(plan.lengths.sparseInfill[layer], (sparse * 0.15) / 0.45, 0.02);
      allSolid += solid / 0.45 - plan.lengths.solidInfill[layer];
      allSparse += (sparse * 0.15) / 0.45 - plan.lengths.sparseInfill[layer];
    }
    // Errors of the layers average out.
    expect(Math.abs(allSolid)).toBeLessThan(0.005 * total(plan.lengths.solidInfill));
    expect(Math.abs(allSparse)).toBeLessThan(0.002 * total(plan.lengths.sparseInfill));
  });
});

describe("sections that are kept", () => {
  const sections = layerSections(box, settings);

  it("are filled anew with other shares and another printer, the same as cut afresh", () => {
    const other = { ...settings, infill: 40, supportShare: 50, leastLayerTime: 20 };
    expect(fillLayers(sections, other, printer)).toEqual(planLayers(box, other, printer));
  });

  it("are refused for settings that they were not cut with", () => {
    expect(() => fillLayers(sections, { ...settings, shells: 2 }, printer)).toThrow(
      'The layers were cut with "shells" 3, not 2',
    );
  });
});

describe("what cannot be planned", () => {
  it("is said", () => {
    expect(() => planLayers(box, { ...settings, layerHeight: 0 }, printer)).toThrow('"layerHeight" is 0 mm');
    expect(() => planLayers(box, { ...settings, shells: 1.5 }, printer)).toThrow('"shells" is 1.5');
    expect(() => planLayers(box, { ...settings, infill: 120 }, printer)).toThrow('"infill" is 120 %');
    expect(() => planLayers(box, settings, { ...printer, acceleration: 0 })).toThrow('"acceleration" is 0');
    expect(() => planLayers(box, settings, { ...printer, flowLimit: NaN })).toThrow('"flowLimit" is NaN');
    expect(() => planLayers(box, settings, printer, undefined, { sampleEvery: 0 })).toThrow(RangeError);
    const two = new Float64Array(2);
    expect(() => planLayers(box, settings, printer, { support: two, contact: two, places: two })).toThrow(
      "The supports have 2 layers, the piece 100",
    );
  });
});
