import { addScaled, distance, normalize, subtract, type Vec3 } from "../../geometry/vector";
import type { Fork } from "./growTrees";
import { neckTaper, radiusFor } from "./propLimits";
import type { Room } from "./room";
import type { PropFoot, PropNeck, Strut, StrutRing } from "./strut";
import { type Twig, twigRadius } from "./twig";
import { between, radiusBelow, ringsAlong } from "./wayDown";

/** How deep a neck goes into the piece where its whole rim does, mm; and by what share of the piece there at most. */
const sunk = 0.3;
const mostSunk = 0.5;
const steepest = 2;

/** The bodies of grown trees, with their necks and feet. */
export function strutsOf(
  forks: readonly Fork[],
  room: Room,
): { struts: Strut[]; necks: PropNeck[]; feet: PropFoot[] } {
  const struts: Strut[] = [];
  const necks: PropNeck[] = [];
  const visit = (fork: Fork, onwards: readonly StrutRing[], isRoot: boolean) => {
    if ("request" in fork.above) {
      const twig = fork.above;
      necks.push(neckOf(twig));
      struts.push({ kind: "twig", rings: goingDown([...neckRings(twig, room), ...onwards]) });
      return;
    }
    const [first] = onwards;
    // A low dome, so that nothing of the forks' ends stands free.
    const dome: StrutRing = {
      at: [first.at[0], first.at[1], first.at[2] + 0.6 * first.radius],
      radius: 0.4 * first.radius,
    };
    struts.push({ kind: isRoot ? "trunk" : "twig", rings: goingDown([dome, ...onwards]) });
    for (const child of fork.above) visit(child, linkRings(child, onwards, room), false);
  };
  for (const fork of forks) {
    visit(
      fork,
      ringsAlong(fork.way, (length) => radiusBelow(fork.need, length, room)),
      true,
    );
  }
  return { struts, necks, feet: forks.map(({ way }) => way.foot) };
}

/** Where a twig touches the piece. */
export const neckOf = ({ request, contact, along, neck }: Twig): PropNeck => ({
  name: request.name,
  part: contact.part,
  at: contact.at,
  along,
  diameter: neck,
});

/** From within the piece to where the clearance begins. */
function neckRings({ contact, along, end, length, neck, need }: Twig, room: Room): StrutRing[] {
  const { limits, tree } = room;
  const [nx, ny, nz] = contact.normal;
  const slope = Math.min(steepest, Math.hypot(nx, ny) / Math.max(1e-6, Math.abs(nz)));
  const [x, y, z] = addScaled(contact.at, along, -1e-3);
  const through = tree.firstHit(x, y, z, -along[0], -along[1], -along[2]);
  const depth = Math.min(
    sunk + (slope * neck) / 2 / Math.abs(along[2]),
    through > 0 ? mostSunk * through : Infinity,
  );
  const place = (s: number): Vec3 => between(contact.at, end, s / length);
  const ring = (s: number): StrutRing => ({
    at: place(s),
    radius: twigRadius(neck, 2 * need.radius, s, limits),
  });
  const full = Math.min(length, limits.neckLength + (need.radius - neck / 2) / neckTaper);
  return [
    { at: addScaled(contact.at, along, -depth), radius: neck / 2 },
    ring(0),
    ...(limits.neckLength < length ? [ring(limits.neckLength)] : []),
    ...(full < length ? [ring(full)] : []),
  ];
}

/**
 * From a fork to the one that it joins, and a little on within the strut there: narrower at its end, so that nothing of
 * it stands out below.
 */
function linkRings({ at, need }: Fork, onwards: readonly StrutRing[], room: Room): StrutRing[] {
  const [{ at: to }, { at: next }] = onwards;
  const radiusAt = (s: number) => Math.max(need.radius, radiusFor(need.above + s, room.limits));
  const radius = radiusAt(distance(at, to));
  const sunken = Math.min(radius, distance(to, next) / 2);
  return [
    { at, radius: radiusAt(0) },
    { at: to, radius: 0.85 * radius },
    { at: addScaled(to, normalize(subtract(next, to)), sunken), radius: 0.7 * radius },
  ];
}

/** Sections that do not lie below the one before are left out. */
function goingDown(rings: readonly StrutRing[]): StrutRing[] {
  const kept: StrutRing[] = [];
  for (const ring of rings) {
    if (kept.length === 0 || kept[kept.length - 1].at[2] - ring.at[2] > 1e-3) kept.push(ring);
  }
  return kept;
}
