import { Vector3 } from "three";
import { ConvexHull } from "three/examples/jsm/math/ConvexHull.js";
import { describe, expect, it } from "vitest";
import { Random } from "../../../src/design/random";
import { normalize, type Vec3 } from "../../../src/geometry/vector";
import type { Orientation } from "../../../src/orientation";
import { outerVertices } from "../../../src/print/orientation/outerVertices";
import { plateRoom, roomInTube } from "../../../src/print/orientation/plateRoom";
import { placedPiece } from "../../../src/print/placedPiece";
import { box, ellipsoid, moved, together, torus } from "../../checks/shapes";
import { ofOnePart, printer, turnedAbout } from "./orientationRig";

const seed = 4_711;

const randomDirection = (random: Random): Vec3 => {
  const z = random.between(-1, 1);
  const turn = random.between(0, 2 * Math.PI);
  const across = Math.sqrt(1 - z * z);
  return [across * Math.cos(turn), across * Math.sin(turn), z];
};

const randomOrientation = (random: Random): Orientation => ({
  tilt: random.between(0, 180),
  towards: random.between(-180, 180),
  turn: random.between(-180, 180),
});

/** A box, a ring and a ball, each anywhere. */
function heap(random: Random) {
  const place = (): Vec3 => [random.between(-40, 40), random.between(-40, 40), random.between(-40, 40)];
  const bodies = [
    box([-20, -3, -9], [random.between(5, 30), 6, 7]),
    torus(random.between(20, 50), random.between(2, 9), 61, 23),
    ellipsoid(random.between(10, 40), random.between(10, 40), random.between(5, 30), 24, 37),
  ];
  return together(
    ...bodies.map((body) => moved(turnedAbout(body, randomDirection(random), random.between(0, 3)), place())),
  );
}

const keyOf = (x: number, y: number, z: number): string => `${x} ${y} ${z}`;

const farthest = (points: ArrayLike<number>, [x, y, z]: Vec3): number => {
  let most = -Infinity;
  for (let i = 0; i < points.length; i += 3) {
    most = Math.max(most, points[i] * x + points[i + 1] * y + points[i + 2] * z);
  }
  return most;
};

describe(`the outer vertices of a piece, seed ${seed}`, () => {
  it("are among others the corners of its convex hull (three's ConvexHull, quickhull)", () => {
    const random = new Random(seed);
    for (let round = 0; round < 6; round++) {
      const { positions } = heap(random);
      const outer = outerVertices(positions);
      const kept = new Set<string>();
      for (let i = 0; i < outer.length; i += 3) kept.add(keyOf(outer[i], outer[i + 1], outer[i + 2]));
      const points = Array.from({ length: positions.length / 3 }, (_, i) =>
        new Vector3().fromArray(positions, 3 * i),
      );
      const corners = new Set<string>();
      for (const face of new ConvexHull().setFromPoints(points).faces) {
        for (let edge = face.edge, k = 0; k < 3; k++, edge = edge.next) {
          const { x, y, z } = edge.head().point;
          corners.add(keyOf(x, y, z));
        }
      }
      expect(corners.size).toBeGreaterThan(50);
      const missed = [...corners].filter((corner) => !kept.has(corner));
      expect(missed, `seed ${seed}, round ${round}`).toEqual([]);
      // Few of the rest come with them: else nothing is gained.
      expect(kept.size).toBeLessThan(2 * corners.size);
    }
  });

  it("reach as far as all vertices in every direction, however coarsely the sphere is divided", () => {
    const random = new Random(seed + 1);
    const { positions } = heap(random);
    for (const depth of [0, 2, 5]) {
      const outer = outerVertices(positions, depth);
      for (let k = 0; k < 500; k++) {
        const direction = randomDirection(random);
        expect(farthest(outer, direction)).toBe(farthest(positions, direction));
      }
    }
  });

  it("are none of nothing, and of a box full of points its corners and few others", () => {
    expect(outerVertices([])).toHaveLength(0);
    const random = new Random(seed + 4);
    const corners = [...box([0, 0, 0], [10, 20, 30]).positions];
    const inside = Array.from({ length: 900 }, (_, i) => random.between(1, [9, 19, 29][i % 3]));
    const outer = outerVertices([...corners, ...inside]);
    expect([...outer.subarray(0, corners.length)]).toEqual(corners);
    expect(outer.length).toBeLessThan(inside.length / 5);
  });

  it("lay a piece on the plate as all vertices do", () => {
    const random = new Random(seed + 2);
    for (const plate of [printer.plate, { shape: "round", diameter: 250 } as const]) {
      for (let round = 0; round < 5; round++) {
        const mesh = ofOnePart(heap(random));
        const orientation = randomOrientation(random);
        const slow = placedPiece(mesh, orientation, plate);
        const fast = placedPiece(mesh, orientation, plate, outerVertices(mesh.positions));
        expect(fast.size, `seed ${seed + 2}, round ${round}`).toEqual(slow.size);
        for (const axis of [0, 1, 2]) expect(fast.shift[axis]).toBeCloseTo(slow.shift[axis], 9);
        let apart = 0;
        for (let i = 0; i < mesh.positions.length; i++) {
          apart = Math.max(apart, Math.abs(fast.mesh.positions[i] - slow.mesh.positions[i]));
        }
        expect(apart).toBeLessThan(1e-4);
      }
    }
  });
});

describe("room in an upright tube", () => {
  it("is that of the least tube about the piece where its axis goes through the middle: a ball", () => {
    const ball = moved(ellipsoid(30, 30, 30, 60, 90), [7, -5, 11]);
    expect(roomInTube(ball.positions, [0.6, 0, 0.8], [7, -5, 11], 100, 200)).toBeCloseTo(40, 1);
    expect(roomInTube(ball.positions, [0.6, 0, 0.8], [7, -5, 11], 200, 50)).toBeCloseTo(-10, 1);
  });

  it(`is never more than that of the least tube, seed ${seed}`, () => {
    const random = new Random(seed + 3);
    const round = { plate: { shape: "round", diameter: 150 }, height: 140 } as const;
    let less = 0;
    for (let k = 0; k < 40; k++) {
      const { positions } = heap(random);
      const up = normalize(randomDirection(random));
      const middle: Vec3 = [random.between(-9, 9), random.between(-9, 9), random.between(-9, 9)];
      const { room } = plateRoom(positions, up, round);
      const rough = roomInTube(positions, up, middle, round.plate.diameter, round.height);
      expect(rough, `seed ${seed + 3}, round ${k}`).toBeLessThanOrEqual(room + 1e-9);
      if (rough < room - 1) less++;
    }
    expect(less).toBeGreaterThan(0);
  });
});
