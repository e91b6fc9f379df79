import type { TriangleMesh } from "./mesh";
import { MeshBuilder } from "./meshBuilder";
import { refusal } from "./refusal";
import { type PreparedTube, placeRings, prepareTube, type Rings } from "./rings";
import type { Section } from "./section";
import { type Cap, domeRings, leastRadius } from "./tips";
import type { TubeShape } from "./tubeShape";

/** Greatest deviation of a swept surface from the true one that nobody sees on a print, mm. */
export const defaultTolerance = 0.12;

/**
 * The surface of a tube as a closed mesh, outward whichever way path and outline run, within `tolerance` mm of the
 * true one. Does not cure a tube that overlaps itself: see `findSelfOverlap`. Throws a MessageError for data that makes
 * no tube.
 */
export function sweepTube(shape: TubeShape, tolerance = defaultTolerance): TriangleMesh {
  const tube = prepareTube(shape, checkedTolerance(tolerance));
  return sweepPrepared(tube, tolerance);
}

/** `sweepTube` for a tube that is measured already, or for its stretch between two shares. */
export function sweepPrepared(tube: PreparedTube, tolerance: number, from = 0, to = 1): TriangleMesh {
  const rings = placeRings(tube, tolerance, from, to);
  const shift = rings.closed ? seamShift(tube) : 0;
  return skin(rings, tube.section, tube.profile.start, tube.profile.end, tolerance, shift);
}

export function checkedTolerance(tolerance: number): number {
  if (!(tolerance > 0) || !Number.isFinite(tolerance)) {
    throw refusal(
      "tolerance-not-positive",
      `the tolerance is ${tolerance} mm`,
      "give a tolerance above 0 mm",
    );
  }
  return tolerance;
}

/** The mesh over rings, closed by caps unless the rings are. `shift`: points by which the last ring meets the first. */
export function skin(
  rings: Rings,
  section: Section,
  start: Cap,
  end: Cap,
  tolerance: number,
  shift = 0,
): TriangleMesh {
  const diagonal = (strip: number) => (section.round ? undefined : ((strip & 1) as 0 | 1));
  const builder = new MeshBuilder(section, rings.count + 24);
  const place = (ring: number, offset: number, radius: number) =>
    builder.ring(rings.centres, rings.tangents, rings.x, rings.y, ring, offset, radius);

  if (rings.closed) {
    const loops = Array.from({ length: rings.count }, (_, i) => place(i, 0, rings.radii[i]));
    for (let i = 0; i + 1 < loops.length; i++) builder.strip(loops[i], loops[i + 1], 0, diagonal(i));
    builder.strip(loops[loops.length - 1], loops[0], shift, diagonal(loops.length - 1));
    return builder.finish();
  }

  const last = rings.count - 1;
  // From the pole of the start cap to the pole of the end cap, one loop after the other.
  const ends = [
    { cap: start, ring: 0, sign: -1 },
    { cap: end, ring: last, sign: 1 },
  ].map(({ cap, ring, sign }) => {
    const radius = rings.radii[ring];
    const open = radius >= leastRadius;
    const dome =
      cap.kind === "dome" && cap.radius >= leastRadius ? domeRings(radius, cap.radius, tolerance) : undefined;
    return { ring, sign, open, dome: open ? dome : undefined };
  });
  const [first, final] = ends;

  const loops: number[] = [];
  if (first.dome) {
    for (let i = first.dome.radii.length - 1; i >= 0; i--) {
      loops.push(place(0, -first.dome.offsets[i], first.dome.radii[i]));
    }
  }
  for (let i = first.open ? 0 : 1; i <= (final.open ? last : last - 1); i++)
    loops.push(place(i, 0, rings.radii[i]));
  if (final.dome) {
    const { offsets, radii } = final.dome;
    for (let i = 0; i < radii.length; i++) loops.push(place(last, offsets[i], radii[i]));
  }
  if (loops.length === 0) {
    throw refusal(
      "tube-without-body",
      "the tube has no radius between its ends",
      "give it a radius above 0 mm",
    );
  }
  for (let i = 0; i + 1 < loops.length; i++) builder.strip(loops[i], loops[i + 1], 0, diagonal(i));

  for (const { ring, sign, open, dome } of ends) {
    const loop = sign < 0 ? loops[0] : loops[loops.length - 1];
    if (open && !dome && section.cap) builder.face(loop, section.cap, sign > 0);
    else {
      const pole = builder.point(rings.centres, rings.tangents, ring, dome ? sign * dome.pole : 0);
      builder.fan(loop, pole, sign > 0);
    }
  }
  return builder.finish();
}

/**
 * By how many of its points a closed tube's section comes back turned: 0 without twist. Throws a MessageError where
 * the twisted outline does not meet itself.
 */
export function seamShift(tube: PreparedTube): number {
  if (!tube.curve.closed || tube.section.round) return 0;
  const { points, reach } = tube.section;
  const n = points.length;
  const twist = tube.seamTwist;
  const [c, s] = [Math.cos(twist), Math.sin(twist)];
  const turned = points.map((p) => [c * p[0] - s * p[1], s * p[0] + c * p[1]]);
  for (let shift = 0; shift < n; shift++) {
    const meets = turned.every((p, i) => {
      const q = points[(i + shift) % n];
      return Math.hypot(p[0] - q[0], p[1] - q[1]) < 1e-4 * reach;
    });
    if (meets) return shift;
  }
  throw refusal(
    "twist-does-not-close",
    `the section of a closed tube comes back turned by ${((twist * 180) / Math.PI).toFixed(1)}°, where it does not meet itself`,
    "twist a closed tube by a multiple of 360°, or by a turn that brings its outline on to itself",
  );
}
