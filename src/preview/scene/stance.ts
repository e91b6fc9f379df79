import { turned } from "./plateFrame";
import { axesOf, type Pose } from "./pose";
import { movedPoint, type RigidMotion } from "./rigidMotion";
import type { Vector } from "./vector";

/** Where the camera stands in the head frame: what it looks at, and its own axes. */
export interface Stance {
  readonly target: Vector;
  readonly right: Vector;
  readonly up: Vector;
  /** From the target to the camera. */
  readonly direction: Vector;
  /** Height of what is seen at the target, mm. */
  readonly span: number;
}

/** The stance of a pose on a turntable that stands in a frame. */
export function stanceOf(pose: Pose, frame: RigidMotion): Stance {
  const axes = axesOf(pose);
  return {
    target: movedPoint(frame, pose.target),
    right: turned(frame, axes.right),
    up: turned(frame, axes.up),
    direction: turned(frame, axes.direction),
    span: pose.span,
  };
}

/** The way from one stance to another, the short way round; `share` 0 to 1. The span changes by ratio. */
export function betweenStances(from: Stance, to: Stance, share: number): Stance {
  const turn = slerp(turnOf(from), turnOf(to), share);
  const mix = (axis: 0 | 1 | 2) => from.target[axis] + share * (to.target[axis] - from.target[axis]);
  return {
    ...axesOfTurn(turn),
    target: [mix(0), mix(1), mix(2)],
    span: from.span * (to.span / from.span) ** share,
  };
}

/** w, x, y, z */
type Turn = readonly [number, number, number, number];

/** The turn that brings the frame's axes to right, up, direction, as a quaternion (Shepperd 1978). */
function turnOf({ right: x, up: y, direction: z }: Stance): Turn {
  const trace = x[0] + y[1] + z[2];
  const squares = [trace, x[0], y[1], z[2]];
  const largest = squares.indexOf(Math.max(...squares));
  const raw: Turn =
    largest === 0
      ? [1 + trace, y[2] - z[1], z[0] - x[2], x[1] - y[0]]
      : largest === 1
        ? [y[2] - z[1], 1 + x[0] - y[1] - z[2], y[0] + x[1], z[0] + x[2]]
        : largest === 2
          ? [z[0] - x[2], y[0] + x[1], 1 - x[0] + y[1] - z[2], z[1] + y[2]]
          : [x[1] - y[0], z[0] + x[2], z[1] + y[2], 1 - x[0] - y[1] + z[2]];
  return normal(raw);
}

function normal([w, x, y, z]: Turn): Turn {
  const length = Math.hypot(w, x, y, z);
  return [w / length, x / length, y / length, z / length];
}

/** Spherical interpolation (Shoemake 1985, Animating rotation with quaternion curves). */
function slerp(a: Turn, b: Turn, share: number): Turn {
  const cosine = a[0] * b[0] + a[1] * b[1] + a[2] * b[2] + a[3] * b[3];
  const sign = cosine < 0 ? -1 : 1;
  const angle = Math.acos(Math.min(1, Math.abs(cosine)));
  const sine = Math.sin(angle);
  const [p, q] =
    sine < 1e-6 ? [1 - share, share] : [Math.sin((1 - share) * angle) / sine, Math.sin(share * angle) / sine];
  const at = (i: 0 | 1 | 2 | 3) => p * a[i] + sign * q * b[i];
  return normal([at(0), at(1), at(2), at(3)]);
}

function axesOfTurn([w, x, y, z]: Turn): Pick<Stance, "right" | "up" | "direction"> {
  return {
    right: [1 - 2 * (y * y + z * z), 2 * (x * y + w * z), 2 * (x * z - w * y)],
    up: [2 * (x * y - w * z), 1 - 2 * (x * x + z * z), 2 * (y * z + w * x)],
    direction: [2 * (x * z + w * y), 2 * (y * z - w * x), 1 - 2 * (x * x + y * y)],
  };
}
