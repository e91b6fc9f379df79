import type { WayOff } from "../protocol";
import { dot, minus, unit, type Vector } from "./vector";

/** A turn and then a shift, head frame, mm. */
export interface RigidMotion {
  /** Where the axes go: the columns of the turn. */
  readonly x: Vector;
  readonly y: Vector;
  readonly z: Vector;
  readonly shift: Vector;
}

/**
 * Where the piece is on its way on.
 * @param share 0: off the head, at the end of the way off; 1: at its seat
 */
export function onTheWay(way: WayOff, share: number): RigidMotion {
  const off = 1 - Math.min(1, Math.max(0, share));
  if (way.kind === "slide") {
    const [x, y, z] = way.direction;
    const by = off * way.distance;
    return { x: [1, 0, 0], y: [0, 1, 0], z: [0, 0, 1], shift: [by * x, by * y, by * z] };
  }
  const turned = turnAbout(unit(way.axis), (off * way.degrees * Math.PI) / 180);
  const [x, y, z] = [turned([1, 0, 0]), turned([0, 1, 0]), turned([0, 0, 1])];
  // The points of the axis stay.
  return { x, y, z, shift: minus(way.origin, turned(way.origin)) };
}

/** Where a point goes. */
export function movedPoint({ x, y, z, shift }: RigidMotion, [px, py, pz]: Vector): Vector {
  return [
    px * x[0] + py * y[0] + pz * z[0] + shift[0],
    px * x[1] + py * y[1] + pz * z[1] + shift[1],
    px * x[2] + py * y[2] + pz * z[2] + shift[2],
  ];
}

/** The motion back. */
export function reversed({ x, y, z, shift }: RigidMotion): RigidMotion {
  return {
    x: [x[0], y[0], z[0]],
    y: [x[1], y[1], z[1]],
    z: [x[2], y[2], z[2]],
    shift: [-dot(x, shift), -dot(y, shift), -dot(z, shift)],
  };
}

/** Turns a vector about an axis through the frame's origin, right-handed (Rodrigues' formula). `angle`: rad. */
export function turnAbout(axis: Vector, angle: number): (vector: Vector) => Vector {
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  return (v) => {
    const along = dot(axis, v) * (1 - c);
    return [
      c * v[0] + s * (axis[1] * v[2] - axis[2] * v[1]) + along * axis[0],
      c * v[1] + s * (axis[2] * v[0] - axis[0] * v[2]) + along * axis[1],
      c * v[2] + s * (axis[0] * v[1] - axis[1] * v[0]) + along * axis[2],
    ];
  };
}
