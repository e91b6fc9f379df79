import { boxOf, boxRound, centreOf } from "./bounds";
import { isWayShown, type Subjects } from "./subjects";
import type { Vector } from "./vector";

/** A ball round all there is, mm. */
export interface Ball {
  readonly middle: Vector;
  readonly radius: number;
}

/** The ball round all that is shown, also where the piece is on its way; room for a head with a crown where there is nothing. */
export function ballRound(subjects: Subjects): Ball {
  const { piece, head, plate, way, bodies, comparison } = subjects;
  const own = piece.box();
  const isAway = own !== undefined && way.motion !== undefined;
  const others = [
    ...(isAway ? [boxOf([way.cornersAway(own)])] : []),
    ...(isWayShown(subjects) ? [boxOf([way.arrowPoints()])] : []),
  ];
  const boxes = [own, head.shownBox, ...bodies.boxes(), ...comparison.boxes(), ...others].flatMap(
    (box) => box ?? [],
  );
  const box = boxRound(boxes) ?? { least: [-120, -120, -120], most: [120, 120, 240] };
  const middle = centreOf(box);
  const radius = Math.hypot(...box.most.map((most, axis) => most - middle[axis]));
  return { middle, radius: Math.max(radius, plate.isShown ? plate.reachFrom(middle) : 0) + 1 };
}
