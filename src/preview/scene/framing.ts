import { headFrame, turned } from "./plateFrame";
import { axesOf, distanceFor, openingAngle, type Pose } from "./pose";
import { movedPoint, type RigidMotion, reversed } from "./rigidMotion";
import { along, dot, type Vector } from "./vector";

/** Points looked at per mesh: more would not move the frame by a pixel. */
const mostPoints = 20_000;

/**
 * The pose that shows all points (x, y, z in turn, head frame, mm) as large as both projections allow, so that
 * changing the projection moves nothing out of the picture. `aspect`: the picture's width over its height.
 * `margin`: room left on each side, as a share of the picture. `frame`: that in which the pose stands.
 * Without points the pose keeps its target and span.
 */
export function framed(
  pose: Pose,
  clouds: readonly ArrayLike<number>[],
  aspect: number,
  margin = 0.07,
  frame: RigidMotion = headFrame,
): Pose {
  const own = axesOf(pose);
  const axes = {
    right: turned(frame, own.right),
    up: turned(frame, own.up),
    direction: turned(frame, own.direction),
  };
  const seen = seenFrom(clouds, axes.right, axes.up, axes.direction);
  if (seen.length === 0) return pose;
  const tall = Math.tan((openingAngle * Math.PI) / 360);
  const wide = tall * aspect;

  const [x, y, z] = [middleOf(seen, 0), middleOf(seen, 1), middleOf(seen, 2)];
  let centre: Vector = [x, y, z];
  let span = 0;
  // What is nearer looks larger: the middle of the picture settles in a few steps.
  for (let step = 0; step < 3; step++) {
    const { distance, parallel } = reach(seen, centre, tall, wide);
    span = Math.max(2 * distance * tall, parallel);
    const offset = offCentre(seen, centre, distanceFor(span));
    if (step < 2) centre = [centre[0] + offset[0], centre[1] + offset[1], centre[2]];
  }
  const target = along(
    along(along([0, 0, 0], axes.right, centre[0]), axes.up, centre[1]),
    axes.direction,
    centre[2],
  );
  return { ...pose, target: movedPoint(reversed(frame), target), span: Math.max(span, 1) / (1 - 2 * margin) };
}

/** The points in the picture's own axes: right, up, towards the camera. */
function seenFrom(
  clouds: readonly ArrayLike<number>[],
  right: Vector,
  up: Vector,
  towards: Vector,
): Float64Array {
  const strides = clouds.map((cloud) => 3 * Math.max(1, Math.floor(cloud.length / 3 / mostPoints)));
  const count = clouds.reduce((sum, cloud, i) => sum + Math.ceil(cloud.length / strides[i]), 0);
  const seen = new Float64Array(3 * count);
  let at = 0;
  for (const [i, cloud] of clouds.entries()) {
    for (let p = 0; p < cloud.length; p += strides[i]) {
      const point: Vector = [cloud[p], cloud[p + 1], cloud[p + 2]];
      seen[at++] = dot(point, right);
      seen[at++] = dot(point, up);
      seen[at++] = dot(point, towards);
    }
  }
  return seen;
}

function middleOf(seen: Float64Array, axis: number): number {
  let [least, most] = [Infinity, -Infinity];
  for (let p = axis; p < seen.length; p += 3) {
    least = Math.min(least, seen[p]);
    most = Math.max(most, seen[p]);
  }
  return (least + most) / 2;
}

/** The least distance of the perspective camera and the least span of the parallel one that show all. */
function reach(seen: Float64Array, centre: Vector, tall: number, wide: number) {
  let [distance, half] = [0, 0];
  for (let p = 0; p < seen.length; p += 3) {
    const x = Math.abs(seen[p] - centre[0]);
    const y = Math.abs(seen[p + 1] - centre[1]);
    distance = Math.max(distance, x / wide + seen[p + 2] - centre[2], y / tall + seen[p + 2] - centre[2]);
    half = Math.max(half, y, (x * tall) / wide);
  }
  return { distance, parallel: 2 * half };
}

/** How far the middle of the perspective picture lies off, at the target, mm. */
function offCentre(seen: Float64Array, centre: Vector, distance: number): [number, number] {
  const bounds = [Infinity, -Infinity, Infinity, -Infinity];
  for (let p = 0; p < seen.length; p += 3) {
    const nearer = distance / Math.max(distance - (seen[p + 2] - centre[2]), 1e-6);
    const x = (seen[p] - centre[0]) * nearer;
    const y = (seen[p + 1] - centre[1]) * nearer;
    bounds[0] = Math.min(bounds[0], x);
    bounds[1] = Math.max(bounds[1], x);
    bounds[2] = Math.min(bounds[2], y);
    bounds[3] = Math.max(bounds[3], y);
  }
  return [(bounds[0] + bounds[1]) / 2, (bounds[2] + bounds[3]) / 2];
}
