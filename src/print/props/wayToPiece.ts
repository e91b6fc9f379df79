import type { Vec3 } from "../../geometry/vector";
import { landingOnPiece } from "./landing";
import type { Room } from "./room";
import { radiusBelow, type StrutNeed, type WayDown } from "./wayDown";

/** How far aside a place to stand on the piece is looked for, mm, and how many are tried. */
const farthest = 24;
const mostTries = 40;

/** A way from a place down to the piece below it, where none leads to the plate: straight, else leaning aside first. */
export function wayToPiece(top: Vec3, need: StrutNeed, room: Room): WayDown | undefined {
  const straight = landingOnPiece(top, [top], need, room);
  if (straight) return straight;
  const slope = Math.tan((room.limits.lean * Math.PI) / 180);
  let tries = mostTries;
  for (const [x, y, aside] of room.uprightsNear(top[0], top[1], farthest)) {
    const drop = aside / slope;
    if (top[2] < drop || tries-- === 0) return undefined;
    const corner: Vec3 = [x, y, top[2] - drop];
    const length = Math.hypot(aside, drop);
    const radii = [radiusBelow(need, 0, room), radiusBelow(need, length, room)] as const;
    if (!room.isFree(top, corner, ...radii)) continue;
    const found = landingOnPiece(corner, [top, corner], { ...need, above: need.above + length }, room);
    if (found) return found;
  }
  return undefined;
}
