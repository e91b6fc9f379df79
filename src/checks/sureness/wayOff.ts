import { radians } from "../../geometry/vector";
import type { MotionOff } from "../wayOn";

/** Places on the way off at which a piece is looked at, mm; beyond them the head only narrows. */
const slides = [3, 6, 10, 15, 20, 26, 33, 41, 50, 62, 76];
/** The same of a turn, degrees. */
const turns = [1.5, 3, 5, 8, 11, 15, 20, 26, 33, 42, 55];

/** A way off as steps. */
export interface WayOffSteps {
  readonly count: number;
  /** Where a point is at a step, mm. */
  move(step: number, x: number, y: number, z: number, into: [number, number, number]): void;
}

/** The steps of a motion; straight up where none is known. */
export function wayOffSteps(off: MotionOff | undefined): WayOffSteps {
  if (off?.kind !== "hinge") {
    const [dx, dy, dz] = off?.direction ?? [0, 0, 1];
    return {
      count: slides.length,
      move: (step, x, y, z, into) => {
        const by = slides[step];
        into[0] = x + by * dx;
        into[1] = y + by * dy;
        into[2] = z + by * dz;
      },
    };
  }
  const { origin, axis } = off;
  // The axis of a hinge runs from side to side.
  const way = axis[0] < 0 ? -1 : 1;
  const steps = turns.filter((turn) => turn < off.degrees);
  const cosines = steps.map((turn) => Math.cos(radians(turn)));
  const sines = steps.map((turn) => way * Math.sin(radians(turn)));
  return {
    count: steps.length,
    move: (step, x, y, z, into) => {
      const ry = y - origin[1];
      const rz = z - origin[2];
      into[0] = x;
      into[1] = origin[1] + cosines[step] * ry - sines[step] * rz;
      into[2] = origin[2] + sines[step] * ry + cosines[step] * rz;
    },
  };
}
