import { describe, expect, it } from "vitest";
import { Random } from "../../../src/design/random";
import { findSupport, supportOfRuns } from "../../../src/print/support/findSupport";
import { box, ellipsoid, moved, together, turned } from "../../checks/shapes";
import { parted, prism, settings, standing } from "./bodies";

const ballAt = (x: number, z: number, radius: number) =>
  moved(ellipsoid(1, 1, 1, 48, 48), [x, 0, z], [radius, radius, radius]);
const block = box([-60, -20, 0], [-20, 20, 40]);

describe("what is held up", () => {
  it("holds nothing with a support share of 0, and nothing that stands on the plate", () => {
    const ball = standing(ballAt(0, 40, 10));
    expect(findSupport(ball, settings()).volume).toBeGreaterThan(1000);
    const none = findSupport(ball, settings({ supportShare: 0 }));
    expect(none).toMatchObject({ volume: 0, contactArea: 0, landingArea: 0, columns: [], byPart: [] });
    expect(none.runs.count).toBe(0);
    expect(findSupport(standing(block), settings()).runs.count).toBe(0);
    // Within a layer of the plate.
    expect(findSupport(standing(box([0, 0, 0.2], [20, 20, 5])), settings()).runs.count).toBe(0);
  });

  it("holds the tip of a cone in the air, though its flank carries itself, at any overhang angle", () => {
    const cone = (half: number) =>
      standing(
        turned(
          [
            [0, 30],
            [15 * Math.tan((half * Math.PI) / 180), 45],
            [0, 45],
          ],
          64,
        ),
      );
    for (const half of [8, 20, 40]) {
      for (const overhangAngle of [45, 70, 90]) {
        const { columns, runs } = findSupport(cone(half), settings({ overhangAngle }));
        expect(columns, `${half}°`).toHaveLength(1);
        // All of it within 1 mm of where the cone begins, a cell more at most.
        for (let i = 0; i < runs.count; i++) {
          const x = runs.origin[0] + (runs.column[i] + 0.5) * runs.cell;
          const y = runs.origin[1] + (runs.row[i] + 0.5) * runs.cell;
          expect(Math.hypot(x, y)).toBeLessThan(2);
        }
      }
    }
  });

  it("holds an edge that looks down all along, though both its faces carry themselves", () => {
    const keel = prism(
      [
        [0, 30],
        [8, 42],
        [0, 44],
        [-8, 42],
      ],
      -20,
      20,
    );
    const { columns, runs } = findSupport(standing(keel), settings());
    expect(columns).toHaveLength(1);
    const rows = new Set(runs.row.subarray(0, runs.count));
    expect(rows.size * runs.cell).toBeGreaterThan(38);
  });

  it("leaves out what is reached from beside it: a step of 0.8 mm under a wall, not one of 4 mm", () => {
    const stepped = (out: number) =>
      standing(together(box([0, 0, 0], [20, 30, 20]), box([0, 0, 20], [20 + out, 30, 30])));
    expect(findSupport(stepped(0.8), settings()).runs.count).toBe(0);
    expect(findSupport(stepped(4), settings()).contactArea).toBeCloseTo(4 * 30, 5);
  });

  it("holds a rod's end of 0.9 mm that begins in the air, alone or under a slab", () => {
    const rod = box([0, 0, 30], [0.9, 0.9, 60]);
    const alone = findSupport(standing(rod), settings());
    expect(alone.columns).toHaveLength(1);
    expect(alone.columns[0]).toMatchObject({ onPlate: true, risk: "peels" });
    const { runs } = findSupport(standing(together(rod, box([-5, -5, 60], [5, 5, 62]))), settings());
    expect(Math.min(...runs.top)).toBeCloseTo(29.8, 4);
    expect(Math.max(...runs.top)).toBeCloseTo(59.8, 4);
  });

  it("ends a fringe thinner than two lines where the support beside it stands", () => {
    const overhangs = (by: number) =>
      standing(
        together(
          box([0, 0, 0], [20, 30, 40]),
          box([-5, 0, 0], [0, 30, 80]),
          box([-5, 0, 80], [20 + by, 30, 85]),
        ),
      );
    const fringe = findSupport(overhangs(0.5), settings());
    expect(Math.min(...fringe.runs.bottom)).toBeCloseTo(40.2, 4);
    const leg = findSupport(overhangs(2), settings());
    expect(Math.min(...leg.runs.bottom)).toBe(0);
    expect(leg.columns).toHaveLength(1);
    // The leg of 2 mm carries what reaches from the plate to 79.8 mm.
    expect(leg.columns[0].slenderness).toBeCloseTo(79.8 / 2, 0);
  });

  it("leaves out what something else holds", () => {
    const ball = standing(ballAt(0, 60, 8));
    const half = findSupport(ball, settings(), { isHeld: (x) => x > 0 });
    const whole = findSupport(ball, settings());
    expect(half.volume / whole.volume).toBeCloseTo(0.5, 2);
    expect(findSupport(ball, settings(), { isHeld: (_x, _y, z) => z < 60 }).runs.count).toBe(0);
    const again = supportOfRuns(
      whole,
      (i) => whole.runs.origin[0] + whole.runs.column[i] * whole.runs.cell < 0,
      settings(),
    );
    expect(again.volume / half.volume).toBeCloseTo(1, 6);
    expect(again.contactArea / half.contactArea).toBeCloseTo(1, 6);
    expect(again.columns).toHaveLength(1);
  });

  const seed = 2_718;
  it(`grows with a smaller overhang angle, and coarse cells come near to fine ones, seed ${seed}`, () => {
    const random = new Random(seed);
    const heap = standing(
      together(
        ...Array.from({ length: 12 }, () =>
          ballAt(random.between(-40, 40), random.between(15, 80), random.between(5, 12)),
        ),
      ),
    );
    let before = 0;
    for (const overhangAngle of [80, 65, 50, 45, 30, 15]) {
      const { volume } = findSupport(heap, settings({ overhangAngle }));
      expect(volume).toBeGreaterThan(before);
      before = volume;
    }
    const fine = findSupport(heap, settings(), { cell: 0.25 });
    const coarse = findSupport(heap, settings(), { cell: 1 });
    expect(Math.abs(coarse.volume / fine.volume - 1)).toBeLessThan(0.03);
    expect(Math.abs(coarse.contactArea / fine.contactArea - 1)).toBeLessThan(0.06);
    expect(findSupport(heap, settings())).toEqual(findSupport(heap, settings()));
  });

  it("keeps every run clear of the piece by the gap, and its sums are those of its parts", () => {
    const placed = parted(block, ballAt(0, 60, 10), ballAt(-40, 90, 14));
    const support = findSupport(placed, settings({ supportGap: 0.4 }));
    const { runs, byPart } = support;
    for (let i = 0; i < runs.count; i++) {
      expect(runs.top[i] - runs.bottom[i]).toBeGreaterThanOrEqual(0.2);
      expect(runs.bottom[i]).toBeCloseTo(runs.onPlate[i] ? 0 : 40.4, 3);
    }
    expect(byPart.map(({ part }) => part).sort()).toEqual([1, 2]);
    expect(byPart[0].volume).toBeGreaterThan(byPart[1].volume);
    const sum = (pick: (of: (typeof byPart)[number]) => number) =>
      byPart.reduce((total, of) => total + pick(of), 0);
    expect(sum(({ volume }) => volume) / support.volume).toBeCloseTo(1, 9);
    expect(sum(({ contactArea }) => contactArea) / support.contactArea).toBeCloseTo(1, 9);
    expect(support.columns.reduce((total, { volume }) => total + volume, 0) / support.volume).toBeCloseTo(
      1,
      9,
    );
    expect(support.columns.map(({ parts }) => parts)).toEqual(expect.arrayContaining([[1], [2]]));
    expect(support.columns.find(({ parts }) => parts[0] === 2)?.onPlate).toBe(false);
  });

  it("refuses settings out of range, naming them", () => {
    const ball = standing(ballAt(0, 30, 5));
    expect(() => findSupport(ball, settings({ overhangAngle: 120 }))).toThrow(
      /overhangAngle is 120: it must be from 0 to 90/,
    );
    expect(() => findSupport(ball, settings({ layerHeight: 0 }))).toThrow(RangeError);
    expect(() => findSupport(ball, settings({ supportGap: Number.NaN }))).toThrow(RangeError);
    expect(() => findSupport(ball, settings(), { cell: -1 })).toThrow(RangeError);
  });
});

describe("columns", () => {
  it("finds the tall thin one under a ball beside a block, and lets a short one be", () => {
    const support = findSupport(parted(block, ballAt(20, 120, 3)), settings());
    const [column] = support.columns.filter(({ risk }) => risk);
    expect(support.columns.filter(({ risk }) => risk)).toHaveLength(1);
    expect(column.parts).toEqual([1]);
    expect(column.risk).toBe("peels");
    // Held to 45° from its lowest: a disc of radius 3·sin 45°, whose rectangle of equal least moment is √3·r wide.
    const width = Math.sqrt(3) * 3 * Math.SQRT1_2;
    expect(Math.abs(column.width / width - 1)).toBeLessThan(0.06);
    const height = 120 - 3 * Math.SQRT1_2 - 0.2;
    expect(Math.abs(column.slenderness / (height / width) - 1)).toBeLessThan(0.06);
    expect(Math.abs(column.footArea / (Math.PI * 4.5) - 1)).toBeLessThan(0.1);
    expect(Math.hypot(column.at[0] - 20, column.at[1])).toBeLessThan(0.6);
    expect(Math.abs(column.at[2] - 117)).toBeLessThan(0.2);
    const low = findSupport(parted(block, ballAt(20, 18, 3)), settings());
    expect(low.columns.some(({ parts, risk }) => parts[0] === 1 && risk)).toBe(false);
    expect(low.columns.some(({ parts }) => parts[0] === 1)).toBe(true);
  });

  it("measures a wedge by what stands above, not by its thin end", () => {
    // A slab that leans out by 60°: below it a wedge whose top runs out to an edge.
    const lean = Math.tan((60 * Math.PI) / 180);
    const slab = prism(
      [
        [0, 0],
        [30 * lean, 30],
        [30 * lean, 40],
        [0, 10],
      ],
      0,
      30,
    );
    const { columns } = findSupport(standing(slab), settings());
    expect(columns).toHaveLength(1);
    expect(columns[0].slenderness).toBeLessThan(2);
    expect(columns[0].risk).toBeUndefined();
  });
});
