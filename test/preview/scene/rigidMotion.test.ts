import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { WayOff } from "../../../src/preview/protocol";
import { cornersOf } from "../../../src/preview/scene/bounds";
import { movedPoint, onTheWay, reversed } from "../../../src/preview/scene/rigidMotion";
import { dot, minus, unit, type Vector } from "../../../src/preview/scene/vector";
import { arrowMesh, arrowPath, arrowSize } from "../../../src/preview/scene/wayArrow";

const slide: WayOff = { kind: "slide", direction: [0, -0.6, 0.8], distance: 150 };
/** About an axis behind the head, from the wearer's left to her right: the front goes up. */
const hinge: WayOff = { kind: "hinge", origin: [0, -100, 20], axis: [1, 0, 0], degrees: 90 };
const front: Vector = [0, 100, 20];

const close = (found: Vector, wanted: Vector) => {
  for (let axis = 0; axis < 3; axis++) expect(found[axis]).toBeCloseTo(wanted[axis], 9);
};

describe("the way on", () => {
  test.each([slide, hinge])("ends where the piece sits: $kind", (way) => {
    close(movedPoint(onTheWay(way, 1), front), front);
    close(movedPoint(onTheWay(way, 7), front), front);
  });

  test("a slide begins its whole distance off, and is half off at half", () => {
    close(movedPoint(onTheWay(slide, 0), front), [0, 100 - 90, 20 + 120]);
    close(movedPoint(onTheWay(slide, 0.5), front), [0, 100 - 45, 20 + 60]);
  });

  test("a hinge turns right-handed about its axis, which stays", () => {
    close(movedPoint(onTheWay(hinge, 0), front), [0, -100, 220]);
    close(movedPoint(onTheWay(hinge, 2 / 3), front), [
      0,
      -100 + 200 * Math.cos(Math.PI / 6),
      20 + 200 * Math.sin(Math.PI / 6),
    ]);
    close(movedPoint(onTheWay(hinge, 0.3), [77, -100, 20]), [77, -100, 20]);
  });

  test("is rigid, and its reverse leads back", () => {
    const number = fc.double({ min: -200, max: 200, noNaN: true });
    const point = fc.tuple(number, number, number);
    fc.assert(
      fc.property(point, point, point, fc.double({ min: 0, max: 1, noNaN: true }), (axis, a, b, share) => {
        fc.pre(Math.hypot(...axis) > 1);
        const way: WayOff = { kind: "hinge", origin: a, axis: unit(axis), degrees: 130 };
        const motion = onTheWay(way, share);
        const [there, other] = [movedPoint(motion, a), movedPoint(motion, b)];
        expect(Math.hypot(...minus(there, other))).toBeCloseTo(Math.hypot(...minus(a, b)), 6);
        const back = movedPoint(reversed(motion), other);
        for (let axis = 0; axis < 3; axis++) expect(back[axis]).toBeCloseTo(b[axis], 6);
      }),
    );
  });
});

describe("the arrow of the way on", () => {
  const box = { least: [-90, -100, 0], most: [90, 110, 140] } as const;

  test("of a slide stands beyond all of the box and points against the way off", () => {
    const path = arrowPath(slide, box);
    const direction: Vector = [0, -0.6, 0.8];
    const corners = cornersOf(box);
    let reach = -Infinity;
    for (let i = 0; i < corners.length; i += 3) {
      reach = Math.max(reach, dot([corners[i], corners[i + 1], corners[i + 2]], direction));
    }
    for (const point of path) expect(dot(point, direction)).toBeGreaterThan(reach);
    const [tail, tip] = [path[0], path.at(-1) as Vector];
    close(unit(minus(tip, tail)), [0, 0.6, -0.8]);
    expect(Math.hypot(...minus(tip, tail))).toBeCloseTo(arrowSize.length, 6);
  });

  test("of a hinge stays farther from the axis than all of the box, and goes the way on about it", () => {
    const path = arrowPath(hinge, box);
    const reach = Math.hypot(210, 120);
    for (const [, y, z] of path) expect(Math.hypot(y + 100, z - 20)).toBeGreaterThan(reach);
    // The way off lifts what is in front; on the way on it comes down.
    const [tail, tip] = [path[0], path.at(-1) as Vector];
    expect(tip[2]).toBeLessThan(tail[2]);
    const turned = movedPoint(onTheWay({ ...hinge, degrees: 5 }, 0), tip);
    expect(dot(minus(turned, tip), minus(tail, tip))).toBeGreaterThan(0);
  });

  test("of a hinge whose axis goes through the middle of the piece still has a place", () => {
    const middle: WayOff = { kind: "hinge", origin: [0, 5, 70], axis: [0, 1, 0], degrees: -40 };
    for (const point of arrowPath(middle, box)) expect(point.every(Number.isFinite)).toBe(true);
  });

  test.each([slide, hinge])("is a closed mesh whose normals look out: $kind", (way) => {
    const { positions, normals, triangles } = arrowMesh(arrowPath(way, box));
    expect(positions.every(Number.isFinite) && normals.every(Number.isFinite)).toBe(true);
    const at = (i: number): Vector => [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
    // Six times the volume that the surface encloses, from its first vertex: positive where it is seen from outside.
    let six = 0;
    for (let t = 0; t < triangles.length; t += 3) {
      const [a, b, c] = [0, 1, 2].map((i) => minus(at(triangles[t + i]), at(0)));
      six += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2]);
      six += a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    const { shaft, head, headLength, length } = arrowSize;
    const closed = Math.PI * (shaft ** 2 * (length - headLength) + (head ** 2 * headLength) / 3);
    expect(six / 6).toBeGreaterThan(0.85 * closed);
    expect(six / 6).toBeLessThan(1.1 * closed);
    for (let i = 0; i < normals.length; i += 3) {
      expect(Math.hypot(normals[i], normals[i + 1], normals[i + 2])).toBeCloseTo(1, 5);
    }
  });
});
