import { type Box, centreOf } from "./bounds";
import { axesOf, type Pose, poseOf } from "./pose";
import type { Vector } from "./vector";

/** What is seen about the place, mm. */
const nearSpan = 110;

/** A camera that looks at the place at a lower cosine than this from its outer side is turned there. */
const seenFrom = 0.35;

/** A pose near a place of the piece, from where the camera stands if it sees it there, else from outside of it. */
export function nearLook(from: Pose, place: Vector, box: Box): Pose {
  const near: Pose = { ...from, target: place, span: Math.min(from.span, nearSpan) };
  const middle = centreOf(box);
  const away = place.map((value, axis) => value - middle[axis]);
  const length = Math.hypot(...away);
  if (length < 1) return near;
  const outward: Vector = [away[0] / length, away[1] / length, away[2] / length];
  const { direction } = axesOf(from);
  const cosine = outward[0] * direction[0] + outward[1] * direction[1] + outward[2] * direction[2];
  if (cosine >= seenFrom) return near;
  // A little from above, and never from straight above or below.
  const raised: Vector = [outward[0], outward[1], Math.max(-0.4, Math.min(1, outward[2] + 0.25))];
  return poseOf({ target: place, direction: raised, up: [0, 0, 1], span: near.span });
}
