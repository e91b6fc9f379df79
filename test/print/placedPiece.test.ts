import fc from "fast-check";
import { describe, expect, it } from "vitest";
import type { PartMesh } from "../../src/geometry/mesh";
import type { Vec3 } from "../../src/geometry/vector";
import { orientationOfUp, placedPiece, rotationOf, toHeadFrame, upOf } from "../../src/print/placedPiece";
import { box } from "../checks/shapes";

const seed = 20261126;
const orientations = fc.record({
  tilt: fc.double({ min: 0, max: 180, noNaN: true }),
  towards: fc.double({ min: -360, max: 360, noNaN: true }),
  turn: fc.double({ min: -360, max: 360, noNaN: true }),
});
const times = (r: readonly number[], p: Vec3): number[] =>
  [0, 1, 2].map((row) => r[3 * row] * p[0] + r[3 * row + 1] * p[1] + r[3 * row + 2] * p[2]);
const plate = { shape: "rectangular", width: 200, depth: 200 } as const;
const brick: PartMesh = { ...box([0, 0, 0], [30, 20, 10]), partOfTriangle: new Int32Array(12) };

describe("a piece on the plate", () => {
  it("the side that is to look up does, whatever the turn", () => {
    fc.assert(
      fc.property(orientations, (orientation) => {
        const [x, y, z] = times(rotationOf(orientation), upOf(orientation));
        expect([x, y, z - 1].every((value) => Math.abs(value) < 1e-12)).toBe(true);
      }),
      { seed },
    );
  });

  it("is turned and not mirrored: rows of unit length, at right angles, right-handed", () => {
    fc.assert(
      fc.property(orientations, (orientation) => {
        const r = rotationOf(orientation);
        const dot = (a: number, b: number) =>
          [0, 1, 2].reduce((sum, i) => sum + r[3 * a + i] * r[3 * b + i], 0);
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++) expect(dot(a, b)).toBeCloseTo(a === b ? 1 : 0, 12);
        const third = [r[1] * r[5] - r[2] * r[4], r[2] * r[3] - r[0] * r[5], r[0] * r[4] - r[1] * r[3]];
        third.forEach((value, i) => {
          expect(value).toBeCloseTo(r[6 + i], 12);
        });
      }),
      { seed },
    );
  });

  it("tilts by hand: lying on its back, the front looks up; a quarter turn takes right to the back", () => {
    // Front is +Y in the head frame.
    const lying = rotationOf({ tilt: 90, towards: 0, turn: 0 });
    expect(times(lying, [0, 1, 0]).map((value) => Math.round(value))).toEqual([0, 0, 1]);
    expect(times(lying, [0, 0, 1]).map((value) => Math.round(value) + 0)).toEqual([0, -1, 0]);
    const turned = rotationOf({ tilt: 0, towards: 0, turn: 90 });
    expect(times(turned, [1, 0, 0]).map((value) => Math.round(value) + 0)).toEqual([0, 1, 0]);
  });

  it("stands on the plate, in its middle, and every place leads back to the head frame", () => {
    fc.assert(
      fc.property(orientations, (orientation) => {
        const placed = placedPiece(brick, orientation, plate);
        const { positions } = placed.mesh;
        const extent = (axis: number) => {
          const own = Array.from(positions).filter((_, i) => i % 3 === axis);
          return [Math.min(...own), Math.max(...own)];
        };
        const [[x0, x1], [y0, y1], [z0, z1]] = [extent(0), extent(1), extent(2)];
        expect(Math.abs(x0 + x1) + Math.abs(y0 + y1) + Math.abs(z0)).toBeLessThan(1e-4);
        [x1 - x0, y1 - y0, z1 - z0].forEach((size, axis) => {
          expect(size).toBeCloseTo(placed.size[axis], 4);
        });
        for (let i = 0; i < positions.length; i += 3) {
          toHeadFrame(placed, [positions[i], positions[i + 1], positions[i + 2]]).forEach((value, axis) => {
            expect(value).toBeCloseTo(brick.positions[i + axis], 4);
          });
        }
      }),
      { seed },
    );
  });

  it("the orientation of a direction has it look up", () => {
    fc.assert(
      fc.property(orientations, ({ tilt, towards }) => {
        const up = upOf({ tilt, towards });
        const again = upOf(orientationOfUp(up));
        again.forEach((value, axis) => {
          expect(value).toBeCloseTo(up[axis], 9);
        });
      }),
      { seed },
    );
  });
});
