import { add, addScaled, dot, normalize, scale, type Vec3 } from "../../geometry/vector";
import type { Contact } from "./contact";
import { neckRun, neckTaper, type PropLimits } from "./propLimits";
import type { PropRequest } from "./propRequest";
import type { Room } from "./room";
import { type Search, type StrutNeed, type WayDown, wayDown, wideSearch } from "./wayDown";
import { wayToPiece } from "./wayToPiece";

/** The upper end of a prop: from its neck to where it has the clearance all round. */
export interface Twig {
  readonly request: PropRequest;
  readonly contact: Contact;
  /** Unit vector away from the piece, downwards. */
  readonly along: Vec3;
  readonly end: Vec3;
  readonly length: number;
  readonly neck: number;
  readonly need: StrutNeed;
  /** How it would reach the plate by itself. */
  readonly way: WayDown;
}

const degree = Math.PI / 180;

/** Radius of a twig at so much of its length from where it touches, mm. */
export const twigRadius = (
  neck: number,
  thickness: number,
  length: number,
  { neckLength }: PropLimits,
): number => Math.min(thickness / 2, neck / 2 + neckTaper * Math.max(0, length - neckLength));

/** A neck under a contact from which a way leads to the plate; undefined where there is none. */
export function twigAt(request: PropRequest, contact: Contact, room: Room): Twig | undefined {
  const { limits } = room;
  const neck = request.neck ?? limits.neck;
  const thickness = Math.max(neck, request.thickness ?? limits.thickness);
  const foot = Math.max(thickness, request.foot ?? limits.foot) / 2;
  const widened = limits.neckLength + (thickness - neck) / 2 / neckTaper;
  const run = Math.min(Math.max(neckRun(thickness / 2, limits), widened), 0.6 * contact.at[2]);
  const need: StrutNeed = { above: run, radius: twigRadius(neck, thickness, run, limits), foot };
  const base = { request, contact, length: run, neck, need };
  const leaving = directionsFrom(contact.normal, limits)
    .map((along) => ({ along, end: addScaled(contact.at, along, run) }))
    .filter(({ end }) => room.leaves(contact.at, end, (s) => twigRadius(neck, thickness, s, limits)));
  // Ways straight down first, from wherever; those that lean aside are like each other.
  for (const search of [straightOnly, wideSearch]) {
    for (const start of search === wideSearch ? leaving.slice(0, mostSearched) : leaving) {
      const way = wayDown(start.end, need, room, search);
      if (way) return { ...base, ...start, way };
    }
  }
  for (const start of leaving.slice(0, mostSearched)) {
    const way = wayToPiece(start.end, need, room);
    if (way) return { ...base, ...start, way };
  }
  return undefined;
}

const straightOnly: Search = { aside: 0, tries: 0 };
/** A way aside is looked for from so many directions. */
const mostSearched = 2;

/** Directions in which a neck may leave a surface, the likeliest first: none leans more than struts may. */
function directionsFrom(normal: Vec3, { lean }: PropLimits): Vec3[] {
  const down: Vec3 = [0, 0, -1];
  const across: Vec3 = normalize([normal[0], normal[1], 0], [1, 0, 0]);
  const leaning = (side: Vec3, angle: number): Vec3 =>
    add(scale(down, Math.cos(angle * degree)), scale(side, Math.sin(angle * degree)));
  const own = Math.acos(Math.min(1, Math.max(-1, -normal[2]))) / degree;
  const first = Math.min(lean, own);
  const turned = Array.from({ length: 12 }, (_, k): Vec3 => {
    const angle = k * 30 * degree;
    return [Math.cos(angle), Math.sin(angle), 0];
  }).sort((a, b) => dot(b, across) - dot(a, across));
  return [
    ...(first > 1 ? [leaning(across, first), leaning(across, first / 2)] : []),
    down,
    ...[lean / 2, lean].flatMap((angle) => turned.map((side) => leaning(side, angle))),
  ];
}
