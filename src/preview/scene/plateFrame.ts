import type { PlateOutline } from "../protocol";
import { movedPoint, type RigidMotion, reversed } from "./rigidMotion";
import { dot, type Vector } from "./vector";

/** The head frame itself. */
export const headFrame: RigidMotion = { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1], shift: [0, 0, 0] };

/**
 * From the plate's frame to the head's. Throws a RangeError where the transform is not of 16 numbers.
 * @param toHead 16 numbers, column by column
 */
export function plateFrame(toHead: readonly number[]): RigidMotion {
  if (toHead.length !== 16 || !toHead.every(Number.isFinite)) {
    throw new RangeError("the plate's transform is not 16 numbers");
  }
  const column = (at: number): Vector => [toHead[at], toHead[at + 1], toHead[at + 2]];
  return { x: column(0), y: column(4), z: column(8), shift: column(12) };
}

/** A vector of the frame in the head frame: turned, not shifted. */
export const turned = ({ x, y, z }: RigidMotion, [a, b, c]: Vector): Vector => [
  a * x[0] + b * y[0] + c * z[0],
  a * x[1] + b * y[1] + c * z[1],
  a * x[2] + b * y[2] + c * z[2],
];

/** Points (x, y, z in turn) moved by a motion, as 32-bit numbers. */
export function movedPoints(motion: RigidMotion, points: ArrayLike<number>): Float32Array {
  const moved = new Float32Array(points.length);
  const { x, y, z, shift } = motion;
  for (let i = 0; i + 2 < points.length; i += 3) {
    const [a, b, c] = [points[i], points[i + 1], points[i + 2]];
    for (let axis = 0; axis < 3; axis++) {
      moved[i + axis] = a * x[axis] + b * y[axis] + c * z[axis] + shift[axis];
    }
  }
  return moved;
}

/** A cut keeps what lies up to a height over the plate, mm. */
export const cutAtHeight = (frame: RigidMotion, height: number) => ({
  normal: frame.z,
  offset: dot(frame.z, frame.shift) + height,
});

/** Slack within which a piece counts as inside the build volume: rounding, mm. */
const slack = 0.01;

/** Whether points of the head frame (x, y, z in turn) all lie within a build volume. */
export function areWithin(
  points: ArrayLike<number>,
  frame: RigidMotion,
  outline: PlateOutline,
  height: number,
): boolean {
  const back = reversed(frame);
  for (let i = 0; i + 2 < points.length; i += 3) {
    const [x, y, z] = movedPoint(back, [points[i], points[i + 1], points[i + 2]]);
    const isOver =
      outline.shape === "round"
        ? Math.hypot(x, y) <= outline.diameter / 2 + slack
        : Math.abs(x) <= outline.width / 2 + slack && Math.abs(y) <= outline.depth / 2 + slack;
    if (!isOver || z < -slack || z > height + slack) return false;
  }
  return true;
}
