import { emptyPlace } from "../../geometry/triangleTree";
import type { Vec3 } from "../../geometry/vector";
import { defaultColumnLimits } from "../support/columnRisk";
import { neckRun } from "./propLimits";
import type { Room } from "./room";
import type { PropFoot } from "./strut";
import { radiusBelow, type StrutNeed, soleHeight, type WayDown } from "./wayDown";

/** A strut stands on the piece where it leans no more than this from level, as the cosine. */
const leastLevel = 0.75;
/** A foot goes so deep into the piece where all of its rim does, mm, and no rim hangs lower than this over it. */
const sunk = 0.3;
const deepestRim = 1.5;
const rimPlaces = 12;

/**
 * A strut straight down from a place to the piece below it, where the piece is level enough to stand on; undefined where
 * it is not, or the strut comes too near to it before.
 */
export function landingOnPiece(
  from: Vec3,
  corners: readonly Vec3[],
  need: StrutNeed,
  room: Room,
): WayDown | undefined {
  const [x, y, top] = from;
  const drop = room.tree.firstHit(x, y, top, 0, 0, -1);
  if (drop < 0) return undefined;
  const z = top - drop;
  const lower = radiusBelow(need, drop, room);
  const foot = footOn([x, y, z], drop + need.above, lower, room);
  const run = Math.max(neckRun(lower, room.limits), 2.2 * (foot?.radius ?? 0));
  if (!foot || drop < run) return undefined;
  const free: Vec3 = [x, y, z + run];
  if (!room.isFree(from, free, radiusBelow(need, 0, room), lower)) return undefined;
  if (!room.leaves([x, y, z], free, () => lower)) return undefined;
  return { corners: [...corners, [x, y, z]], foot };
}

/** A foot as wide as what stands on it asks for, if the piece is broad and thick enough there. */
function footOn([x, y, z]: Vec3, height: number, strut: number, room: Room): PropFoot | undefined {
  const radius = Math.max(strut + soleHeight, modulusRadius(height));
  const { tree } = room;
  const place = emptyPlace();
  tree.nearest(x, y, z, place);
  if (room.levelOf(place.triangle) < leastLevel) return undefined;
  const above = 2 * radius;
  let deepest = 0;
  for (let k = 0; k < rimPlaces; k++) {
    const angle = (2 * Math.PI * k) / rimPlaces;
    const [px, py] = [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
    const hit = tree.firstHit(px, py, z + above, 0, 0, -1, above + deepestRim);
    if (hit < 0 || hit < above - deepestRim) return undefined;
    deepest = Math.max(deepest, hit - above);
  }
  const depth = deepest + sunk;
  const thickness = tree.firstHit(x, y, z - 1e-3, 0, 0, -1);
  return thickness > 0 && thickness < 2 * depth ? undefined : { x, y, z, radius, depth };
}

/**
 * Radius of a round foot that bears the push on the top of what stands on it, mm: section modulus π r³ / 4, as the
 * criterion for columns of support has it.
 */
function modulusRadius(height: number): number {
  const { push, adhesion, height: least } = defaultColumnLimits;
  return height > least ? Math.cbrt((4 * push * height) / (adhesion * Math.PI)) : 0;
}
