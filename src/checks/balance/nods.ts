import type { Vec3 } from "../../geometry/vector";
import type { LimitName } from "../../wearLimits";

/** The four ways in which a head is tilted. */
export const nods = ["forward", "back", "left", "right"] as const;
export type Nod = (typeof nods)[number];

/** Where gravity pulls, seen from a level head. */
export const down: Vec3 = [0, 0, -1];

/** Towards where gravity turns, seen from the head, as it tilts. */
export const nodDirections: Readonly<Record<Nod, Vec3>> = {
  forward: [0, 1, 0],
  back: [0, -1, 0],
  left: [-1, 0, 0],
  right: [1, 0, 0],
};

export const nodLimits = {
  forward: "nodForward",
  back: "nodBack",
  left: "tiltSide",
  right: "tiltSide",
} as const satisfies Record<Nod, LimitName>;

/** One number for each way. */
export const forEachNod = <T>(of: (nod: Nod) => T): Record<Nod, T> => ({
  forward: of("forward"),
  back: of("back"),
  left: of("left"),
  right: of("right"),
});
