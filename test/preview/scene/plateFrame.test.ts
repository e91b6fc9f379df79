import fc from "fast-check";
import { Matrix4, PerspectiveCamera, Quaternion, Vector3 } from "three";
import { describe, expect, test } from "vitest";
import { framed } from "../../../src/preview/scene/framing";
import {
  areWithin,
  cutAtHeight,
  headFrame,
  movedPoints,
  plateFrame,
  turned,
} from "../../../src/preview/scene/plateFrame";
import { axesOf, type Pose, plateLookFrom } from "../../../src/preview/scene/pose";
import { movedPoint, reversed } from "../../../src/preview/scene/rigidMotion";
import { betweenStances, stanceOf } from "../../../src/preview/scene/stance";
import type { Vector } from "../../../src/preview/scene/vector";
import { dot } from "../../../src/preview/scene/vector";
import { placedPiece, toHeadFrame } from "../../../src/print/placedPiece";
import { lyingBack } from "../panel/rig";
import { ball, cube } from "./shapes";

/** Where the plate stands for an orientation, as the extension tells it. */
function toHeadOf(orientation: { tilt: number; towards: number; turn: number }) {
  const round = ball(40, 12, 8);
  const mesh = { ...round, partOfTriangle: new Int32Array(round.triangles.length / 3) };
  const placed = placedPiece(mesh, orientation, { shape: "rectangular", width: 200, depth: 200 });
  const o = toHeadFrame(placed, [0, 0, 0]);
  const axis = (unit: Vector) => {
    const to = toHeadFrame(placed, unit);
    return [to[0] - o[0], to[1] - o[1], to[2] - o[2], 0];
  };
  return { placed, mesh, toHead: [...axis([1, 0, 0]), ...axis([0, 1, 0]), ...axis([0, 0, 1]), ...o, 1] };
}

const anyTurn = fc.record({
  tilt: fc.double({ min: 0, max: 180, noNaN: true }),
  towards: fc.double({ min: -180, max: 180, noNaN: true }),
  turn: fc.double({ min: -180, max: 180, noNaN: true }),
});
const anyPlace = fc.double({ min: -200, max: 200, noNaN: true });
const anyPose: fc.Arbitrary<Pose> = fc.record({
  azimuth: fc.double({ min: -179, max: 179, noNaN: true }),
  elevation: fc.double({ min: -89, max: 89, noNaN: true }),
  target: fc.tuple(anyPlace, anyPlace, anyPlace),
  span: fc.double({ min: 10, max: 900, noNaN: true }),
});

const expectNear = (found: ArrayLike<number>, wanted: ArrayLike<number>, digits = 6) => {
  expect(found.length).toBe(wanted.length);
  for (let i = 0; i < found.length; i++) expect(found[i]).toBeCloseTo(wanted[i], digits);
};

describe("the plate's frame", () => {
  test("and back is where the piece is laid for printing", () => {
    fc.assert(
      fc.property(anyTurn, (orientation) => {
        const { placed, mesh, toHead } = toHeadOf(orientation);
        const frame = plateFrame(toHead);
        expectNear(movedPoints(reversed(frame), mesh.positions), placed.mesh.positions, 3);
        expectNear(movedPoints(frame, placed.mesh.positions), mesh.positions, 3);
      }),
      { seed: 5, numRuns: 25 },
    );
  });

  test("is the matrix that three takes, column by column", () => {
    fc.assert(
      fc.property(anyTurn, (orientation) => {
        const { toHead } = toHeadOf(orientation);
        const frame = plateFrame(toHead);
        const matrix = new Matrix4().fromArray(toHead);
        const inverse = matrix.clone().invert();
        expectNear(movedPoint(frame, [3, -7, 11]), new Vector3(3, -7, 11).applyMatrix4(matrix).toArray());
        expectNear(
          movedPoint(reversed(frame), [3, -7, 11]),
          new Vector3(3, -7, 11).applyMatrix4(inverse).toArray(),
        );
        expectNear(
          turned(frame, [1, 2, 2]),
          new Vector3(1, 2, 2).transformDirection(matrix).multiplyScalar(3).toArray(),
        );
      }),
      { seed: 6, numRuns: 40 },
    );
  });

  test("by hand: lying on its back, 60 mm over the plate is 40 mm before the head's middle", () => {
    const frame = plateFrame(lyingBack);
    expectNear(movedPoint(frame, [5, 7, 60]), [5, -40, -7]);
  });

  test.each([[[1, 2, 3]], [Array(16).fill(Number.NaN)], [[]]])("no sixteen numbers: %j", (toHead) => {
    expect(() => plateFrame(toHead)).toThrow(RangeError);
  });

  test("a cut at a height keeps what lies below it", () => {
    const frame = plateFrame(lyingBack);
    const { normal, offset } = cutAtHeight(frame, 60);
    const isCut = (z: number) => dot(normal, movedPoint(frame, [31, -12, z])) > offset + 1e-9;
    expect([0, 59.9, 60, 60.1, 200].map(isCut)).toEqual([false, false, false, true, true]);
  });

  test("tells whether a piece lies within the build volume", () => {
    const frame = plateFrame(lyingBack);
    const at = (x: number, y: number, z: number) => movedPoints(frame, cube(20, [x, y, z]).positions);
    const box = { shape: "rectangular", width: 100, depth: 60 } as const;
    expect(areWithin(at(0, 0, 10), frame, box, 20)).toBe(true);
    expect(areWithin(at(40, 20, 10), frame, box, 20)).toBe(true);
    expect(areWithin(at(41, 20, 10), frame, box, 20)).toBe(false);
    expect(areWithin(at(40, 21, 10), frame, box, 20)).toBe(false);
    expect(areWithin(at(0, 0, 11), frame, box, 20)).toBe(false);
    expect(areWithin(at(0, 0, 9), frame, box, 20)).toBe(false);
    // The corner of the cube lies √200 = 14.14 mm from its middle.
    const round = { shape: "round", diameter: 28.3 } as const;
    expect(areWithin(at(0, 0, 10), frame, round, 20)).toBe(true);
    expect(areWithin(at(0.2, 0, 10), frame, round, 20)).toBe(false);
  });
});

describe("the camera over the plate", () => {
  test("in the head's own frame stands as its pose says", () => {
    const pose = { azimuth: 30, elevation: 20, target: [1, 2, 3], span: 200 } as const;
    expect(stanceOf(pose, headFrame)).toEqual({ ...axesOf(pose), target: [1, 2, 3], span: 200 });
  });

  test("sees a point where it would see it on a level plate", () => {
    fc.assert(
      fc.property(anyTurn, anyPose, (orientation, pose) => {
        const { toHead } = toHeadOf(orientation);
        const frame = plateFrame(toHead);
        const level = stanceOf(pose, headFrame);
        const there = stanceOf(pose, frame);
        const point: Vector = [17, -23, 31];
        const moved = movedPoint(frame, point);
        for (const axis of ["right", "up", "direction"] as const) {
          const [a, b] = [level, there].map((stance, i) => {
            const from = [point, moved][i];
            return dot(stance[axis], from) - dot(stance[axis], stance.target);
          });
          expect(b).toBeCloseTo(a, 6);
        }
      }),
      { seed: 8, numRuns: 60 },
    );
  });

  test("goes from the head to the plate as three's quaternions do, beginning and ending where it stands", () => {
    const turnOf = ({ right, up, direction }: ReturnType<typeof stanceOf>) =>
      new Quaternion().setFromRotationMatrix(
        new Matrix4().makeBasis(new Vector3(...right), new Vector3(...up), new Vector3(...direction)),
      );
    fc.assert(
      fc.property(anyTurn, anyPose, anyPose, (orientation, a, b) => {
        const from = stanceOf(a, headFrame);
        const to = stanceOf(b, plateFrame(toHeadOf(orientation).toHead));
        // Half a turn has two shortest ways.
        fc.pre(Math.abs(turnOf(from).dot(turnOf(to))) > 1e-4);
        for (const share of [0, 0.3, 1]) {
          const found = betweenStances(from, to, share);
          const wanted = turnOf(from).slerp(turnOf(to), share);
          expect(Math.abs(turnOf(found).dot(wanted))).toBeCloseTo(1, 5);
        }
        const end = betweenStances(from, to, 1);
        expectNear(end.target, to.target);
        expectNear(end.direction, to.direction);
        expect(end.span).toBeCloseTo(to.span, 6);
        expect(betweenStances(from, to, 0.5).span).toBeCloseTo(Math.sqrt(from.span * to.span), 6);
      }),
      { seed: 9, numRuns: 60 },
    );
  });

  test("frames a piece on the plate as it would frame it laid there", () => {
    const { placed, mesh, toHead } = toHeadOf({ tilt: 64, towards: 110, turn: 20 });
    const pose = { azimuth: -146, elevation: 24, target: [0, 0, 0], span: 100 } as const;
    const there = framed(pose, [mesh.positions], 1.4, 0.07, plateFrame(toHead));
    const level = framed(pose, [placed.mesh.positions], 1.4);
    expectNear(there.target, level.target, 3);
    expect(there.span).toBeCloseTo(level.span, 3);
  });

  test("stands before the printer, whose back lies along y, with x to the right", () => {
    const front = axesOf(plateLookFrom("front"));
    expectNear(front.direction, [0, -1, 0]);
    expectNear(front.right, [1, 0, 0]);
    expectNear(axesOf(plateLookFrom("back")).direction, [0, 1, 0]);
    expectNear(axesOf(plateLookFrom("right")).direction, [1, 0, 0]);
    expectNear(axesOf(plateLookFrom("top")).direction, [0, 0, 1]);
    expectNear(axesOf(plateLookFrom("top")).right, [1, 0, 0]);
    expectNear(axesOf(plateLookFrom("plate")).direction, [0, 0, -1]);
    const camera = new PerspectiveCamera();
    camera.up.set(0, 0, 1);
    camera.position.set(0, -300, 0);
    camera.lookAt(0, 0, 0);
    camera.updateMatrixWorld();
    expectNear(new Vector3(1, 0, 0).transformDirection(camera.matrixWorld).toArray(), front.right);
  });
});
