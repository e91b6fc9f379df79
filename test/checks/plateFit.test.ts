import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { convexOutline, enclosingCircle, roomInRectangle } from "../../src/checks/plate/footprint";
import { plateFit } from "../../src/checks/plateFit";
import { box, torus } from "./shapes";

const printer = (width: number, depth: number, height: number) => ({
  plate: { shape: "rectangular" as const, width, depth },
  height,
});

const coordinate = fc.integer({ min: -100, max: 100 });
const cloud = fc.array(fc.tuple(coordinate, coordinate, coordinate), {
  minLength: 4,
  maxLength: 30,
});

/** Room at a turn, straight from the points. */
function roomAtTurn(
  points: readonly (readonly number[])[],
  turn: number,
  width: number,
  depth: number,
): number {
  const c = Math.cos(turn);
  const s = Math.sin(turn);
  const x = points.map(([a, b]) => c * a - s * b);
  const y = points.map(([a, b]) => s * a + c * b);
  return Math.min(width - (Math.max(...x) - Math.min(...x)), depth - (Math.max(...y) - Math.min(...y)));
}

describe("footprint", () => {
  it("finds no less room than any of a thousand turns, and the room it states", () => {
    fc.assert(
      fc.property(
        cloud,
        fc.integer({ min: 50, max: 300 }),
        fc.integer({ min: 50, max: 300 }),
        (points, w, d) => {
          const outline = convexOutline(
            Float64Array.from(points, (p) => p[0]),
            Float64Array.from(points, (p) => p[1]),
          );
          const { room, turn } = roomInRectangle(outline, w, d);
          expect(roomAtTurn(points, turn, w, d)).toBeCloseTo(room, 6);
          for (let k = 0; k < 1000; k++) {
            expect(roomAtTurn(points, (k * Math.PI) / 1000, w, d)).toBeLessThanOrEqual(room + 1e-6);
          }
        },
      ),
      { seed: 3, numRuns: 40 },
    );
  });

  it("puts the smallest circle around: all within, and no three points need less", () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const outline = convexOutline(
          Float64Array.from(points, (p) => p[0]),
          Float64Array.from(points, (p) => p[1]),
        );
        const { diameter, centre } = enclosingCircle(outline);
        const away = points.map(([x, y]) => Math.hypot(x - centre[0], y - centre[1]));
        expect(Math.max(...away)).toBeLessThanOrEqual(diameter / 2 + 1e-6);
        // Smallest: the points on its rim leave no half of it free.
        const rim = points
          .filter((_, i) => away[i] > diameter / 2 - 1e-6)
          .map(([x, y]) => Math.atan2(y - centre[1], x - centre[0]))
          .sort((a, b) => a - b);
        if (diameter === 0) return;
        const gaps = rim.map((angle, i) => (i + 1 < rim.length ? rim[i + 1] : rim[0] + 2 * Math.PI) - angle);
        expect(Math.max(...gaps)).toBeLessThanOrEqual(Math.PI + 1e-5);
      }),
      { seed: 5, numRuns: 200 },
    );
  });
});

describe("plateFit", () => {
  it("keeps a piece that fits as designed, with the room on each side", () => {
    const fit = plateFit(box([-50, -60, 0], [50, 60, 70]).positions, printer(220, 210, 250));
    expect(fit).toMatchObject({ fits: true, tilt: 0, turn: 0, excess: 0, tightest: "depth" });
    expect(fit.room).toEqual({ width: 120, depth: 90, height: 180 });
    expect(fit.size).toEqual([100, 120, 70]);
  });

  it("turns before it tilts", () => {
    const fit = plateFit(box([0, 0, 0], [240, 20, 30]).positions, printer(200, 200, 30));
    expect([fit.fits, fit.tilt]).toEqual([true, 0]);
    expect(Math.abs(fit.turn)).toBeCloseTo(45, 6);
  });

  it("tells by how much the best is too large", () => {
    const fit = plateFit(box([0, 0, 0], [100, 100, 100]).positions, printer(90, 90, 90));
    expect(fit.fits).toBe(false);
    expect(fit.excess).toBeCloseTo(10, 2);
    expect(Math.min(...Object.values(fit.room))).toBeCloseTo(-fit.excess, 9);
  });

  it("names no tilt that gains next to nothing", () => {
    const ring = plateFit(torus(80, 5, 90, 16).positions, {
      plate: { shape: "round", diameter: 150 },
      height: 120,
    });
    expect([ring.fits, ring.tilt]).toEqual([false, 0]);
    expect(ring.excess).toBeCloseTo(20, 3);
  });

  it("gives a rotation that yields the stated size, right-handed, with the stated tilt", () => {
    const points = torus(145, 5, 90, 16).positions;
    const { rotation: r, size, tilt, fits } = plateFit(points, printer(256, 256, 256));
    expect(fits).toBe(true);
    for (let axis = 0; axis < 3; axis++) {
      let least = Infinity;
      let most = -Infinity;
      for (let i = 0; i < points.length; i += 3) {
        const value =
          r[3 * axis] * points[i] + r[3 * axis + 1] * points[i + 1] + r[3 * axis + 2] * points[i + 2];
        least = Math.min(least, value);
        most = Math.max(most, value);
      }
      expect(most - least).toBeCloseTo(size[axis], 6);
    }
    const cross = [r[1] * r[5] - r[2] * r[4], r[2] * r[3] - r[0] * r[5], r[0] * r[4] - r[1] * r[3]];
    cross.forEach((value, i) => {
      expect(value).toBeCloseTo(r[6 + i], 9);
    });
    expect((Math.acos(r[8]) * 180) / Math.PI).toBeCloseTo(tilt, 6);
  });

  it("finds what a search of every third degree finds, and tilts no more", () => {
    fc.assert(
      fc.property(
        cloud,
        fc.integer({ min: 130, max: 260 }),
        fc.integer({ min: 100, max: 220 }),
        (points, side, height) => {
          const slow = slowly(points, side, side - 20, height);
          const fit = plateFit(points.flat(), printer(side, side - 20, height));
          if (slow.tilt < Infinity) {
            expect(fit.fits).toBe(true);
            expect(fit.tilt).toBeLessThanOrEqual(slow.tilt + 0.1);
          }
          if (!fit.fits) expect(fit.excess).toBeLessThanOrEqual(-slow.room + (fit.tilt === 0 ? 0.25 : 0.05));
        },
      ),
      { seed: 17, numRuns: 25 },
    );
  });

  it("refuses empty input, a coordinate that is no number and a plate of no size", () => {
    expect(() => plateFit([], printer(1, 1, 1))).toThrow(/no points/);
    expect(() => plateFit([0, 0, Number.NaN], printer(1, 1, 1))).toThrow(/Coordinate 2 is NaN/);
    expect(() => plateFit([0, 0, 0], printer(200, -5, 200))).toThrow(/depth is -5 mm/);
  });
});

/** Least tilt and most room over directions 3° apart. */
function slowly(points: readonly (readonly number[])[], width: number, depth: number, height: number) {
  const rad = Math.PI / 180;
  const best = { tilt: Infinity, room: -Infinity };
  for (let tilt = 0; tilt <= 90; tilt += 3) {
    for (let azimuth = 0; azimuth < 360; azimuth += tilt === 0 ? 360 : 3 / Math.sin(tilt * rad)) {
      const [ct, st] = [Math.cos(tilt * rad), Math.sin(tilt * rad)];
      const [ca, sa] = [Math.cos(azimuth * rad), Math.sin(azimuth * rad)];
      // Away from the azimuth and up are the tilted axes, the third is level.
      const x = points.map(([a, b, c]) => ct * (ca * a + sa * b) - st * c);
      const y = points.map(([a, b]) => ca * b - sa * a);
      const z = points.map(([a, b, c]) => st * (ca * a + sa * b) + ct * c);
      const flat = roomInRectangle(convexOutline(Float64Array.from(x), Float64Array.from(y)), width, depth);
      const room = Math.min(flat.room, height - (Math.max(...z) - Math.min(...z)));
      best.room = Math.max(best.room, room);
      if (room >= 0) best.tilt = Math.min(best.tilt, tilt);
    }
  }
  return best;
}
