import type { Vec3 } from "../../geometry/vector";

/**
 * How much it shows, from 0 to 1, where a support leaves a surface rough. Our own choice, no source: what the hollow left
 * lies on the head and never shows; what looks away from the head counts whole; what looks straight at the head counts a
 * fifth, for it is seen past the piece; between them it grows evenly from the one to the other. The back of the head counts
 * six tenths of the front, its sides eight.
 * @param place on the surface, head frame, mm
 * @param normal unit vector
 */
export function shownShare(place: Vec3, normal: Vec3, isHollow: boolean): number {
  if (isHollow) return 0;
  const [x, y] = place;
  const z = place[2] - headMiddle;
  const away = Math.sqrt(x * x + y * y + z * z);
  if (away < 1e-9) return leastShown;
  const looks = (x * normal[0] + y * normal[1] + z * normal[2]) / away;
  const across = Math.sqrt(x * x + y * y);
  const front = across > 1e-9 ? y / across : 0;
  return (looks >= 0 ? 1 : 1 + looks * (1 - leastShown)) * (sideShown + (1 - sideShown) * front);
}

/** Height of the head's middle over the tragions, mm: half way from them to the crown, as heads are (ANSUR II: 126 to 131). */
const headMiddle = 64;
/** Of what looks straight at the head. */
const leastShown = 0.2;
const sideShown = 0.8;
