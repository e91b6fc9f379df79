import type { Vec3 } from "../../geometry/vector";
import { radiusFor } from "./propLimits";
import type { Room } from "./room";
import type { PropFoot, StrutRing } from "./strut";

/** What is asked of a strut from a place down to the plate. Lengths in mm. */
export interface StrutNeed {
  /** Length of what stands above its upper end. */
  readonly above: number;
  /** Least radius of the strut, and of its foot. */
  readonly radius: number;
  readonly foot: number;
}

/** A way down: corners from the upper end to the plate, and the foot. */
export interface WayDown {
  readonly corners: readonly Vec3[];
  readonly foot: PropFoot;
}

/** How hard a way is looked for: mm aside, and ways that lean which are tried. */
export interface Search {
  readonly aside: number;
  readonly tries: number;
}
export const wideSearch: Search = { aside: 90, tries: 80 };
export const nearSearch: Search = { aside: 18, tries: 12 };

/** Lowest part of a foot, which does not narrow, mm. */
export const soleHeight = 0.6;
const degree = Math.PI / 180;

/** Radius of a strut at so much of its length below its upper end. */
export const radiusBelow = (need: StrutNeed, length: number, room: Room): number =>
  Math.max(need.radius, radiusFor(need.above + length, room.limits));

/**
 * A way from a place down to the plate that keeps the clearance: straight down, else leaning aside to an upright that is
 * free and then down, the nearest first; undefined where none is found.
 */
export function wayDown(top: Vec3, need: StrutNeed, room: Room, search: Search): WayDown | undefined {
  const straight = standing(top, [top], need, room);
  if (straight) return straight;
  const { lean } = room.limits;
  let tries = search.tries;
  for (const [x, y, aside] of room.uprightsNear(top[0], top[1], search.aside)) {
    for (const angle of [lean, lean / 2]) {
      const drop = aside / Math.tan(angle * degree);
      const z = top[2] - drop;
      const length = Math.hypot(aside, drop);
      if (z < soleHeight || room.freeHeight(x, y, radiusBelow(need, length + z, room)) < z) continue;
      if (tries-- === 0) return undefined;
      const corner: Vec3 = [x, y, z];
      const radii = [radiusBelow(need, 0, room), radiusBelow(need, length, room)] as const;
      if (!room.isFree(top, corner, ...radii)) continue;
      const found = standing(corner, [top, corner], { ...need, above: need.above + length }, room);
      if (found) return found;
    }
  }
  return undefined;
}

/** A strut straight down from a place with its foot, where there is room for both. */
function standing(from: Vec3, corners: readonly Vec3[], need: StrutNeed, room: Room): WayDown | undefined {
  const [x, y, z] = from;
  const lower = radiusBelow(need, z, room);
  const radius = footRadius(z + need.above, lower, need.foot, room);
  if (!room.isOnPlate(x, y, radius)) return undefined;
  if (!room.isFree(from, [x, y, 0], radiusBelow(need, 0, room), lower)) return undefined;
  const shoulder: Vec3 = [x, y, footHeight(z, lower, radius)];
  if (!room.isFree(shoulder, [x, y, 0], lower, radius)) return undefined;
  return { corners: [...corners, [x, y, 0]], foot: { x, y, z: 0, radius, depth: 0 } };
}

/** A foot grows with the height of what stands on it, and is wider than the strut. */
const footRadius = (height: number, strut: number, least: number, { limits }: Room): number =>
  Math.max(least, (limits.footShare * height) / 2, 1.25 * strut + 1);

/** Height over the plate at which the foot has narrowed to the strut: at 45°, lower where the strut is low. */
const footHeight = (height: number, strut: number, radius: number): number =>
  Math.min(soleHeight + radius - strut, 0.7 * height);

/** The sections of a strut along its way, from above; `radiusAt` by the length from its upper end. */
export function ringsAlong({ corners, foot }: WayDown, radiusAt: (length: number) => number): StrutRing[] {
  const rings: StrutRing[] = [];
  const last = corners.length - 1;
  let passed = 0;
  for (let i = 0; i < last; i++) {
    const [from, to] = [corners[i], corners[i + 1]];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
    const isLast = i + 1 === last;
    const lower = radiusAt(passed + length);
    const usable = isLast ? length - footHeight(from[2] - to[2], lower, foot.radius) : length;
    const steps = Math.max(1, Math.ceil(usable / ringStep));
    for (let k = 0; k < steps + (isLast ? 1 : 0); k++) {
      const s = (usable * k) / steps;
      rings.push({ at: between(from, to, s / length), radius: radiusAt(passed + s) });
    }
    passed += length;
  }
  const { x, y, z, radius, depth } = foot;
  const shoulder = rings[rings.length - 1].at[2] - z;
  rings.push({ at: [x, y, z + Math.min(soleHeight, shoulder / 2)], radius });
  rings.push({ at: [x, y, z - depth], radius });
  return rings;
}

/** Sections of a long strut are no farther apart, mm: its radius need not change evenly. */
const ringStep = 16;

export const between = (a: Vec3, b: Vec3, k: number): Vec3 => [
  a[0] + (b[0] - a[0]) * k,
  a[1] + (b[1] - a[1]) * k,
  a[2] + (b[2] - a[2]) * k,
];
