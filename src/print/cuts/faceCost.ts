import type { Vec3 } from "../../geometry/vector";
import type { SectionFace } from "./planeSection";

/** Where a piece lies, for the question whether a cut shows: the middle of its box and half its extents, mm. */
export interface Surroundings {
  readonly middle: Vec3;
  readonly half: Vec3;
}

/** How much more a cut counts in front than at the side, and less at the back. */
const front = 0.4;
/** How much less a cut counts in the middle than at the rim. */
const inside = 0.25;
/** A joint is work, however small, mm² of cut. */
const perJoint = 15;
/** A face too slender for a pin holds by glue alone, mm² of cut. */
const noPin = 60;
/** Half of the width that a pin needs, mm. */
export const leastPinRoom = 2.5;
/** Every further part whose surface the outline meets makes the cut run through a place where parts meet. */
const perSocket = 1.5;
const socket = 60;
const abutting = 100;

/** What a cut face costs, in mm² of a plain cut at the side of the piece. */
export function faceCost(face: SectionFace, { middle, half }: Surroundings): number {
  const x = (face.centre[0] - middle[0]) / Math.max(half[0], 1);
  const y = (face.centre[1] - middle[1]) / Math.max(half[1], 1);
  const seen =
    (1 + front * Math.max(-1, Math.min(1, y))) * (1 - inside * (1 - Math.min(1, Math.hypot(x, y))));
  const meetings = Math.max(0, face.parts.length - 1);
  return (
    face.area * seen * (1 + perSocket * meetings) +
    perJoint +
    (meetings > 0 ? socket : 0) +
    (hydraulicRadius(face) < leastPinRoom ? noPin : 0) +
    (face.abuts ? abutting : 0)
  );
}

/** Twice the area by the outline, mm: the radius of a round face, half the width of a long one. */
export const hydraulicRadius = ({ area, perimeter }: Pick<SectionFace, "area" | "perimeter">): number =>
  perimeter > 0 ? (2 * area) / perimeter : 0;
