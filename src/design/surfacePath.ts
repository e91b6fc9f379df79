import { Curve } from "../geometry/curve";
import { radiusProfile } from "../geometry/radius";
import type { Vec3 } from "../geometry/vector";
import { clamp, degrees, dot, lerp, normalize, radians } from "../geometry/vector";
import { number, options } from "./check";
import { makeContext } from "./context";
import { designError } from "./error";
import type { HeadCoordinates } from "./headSpace";
import { Path } from "./path";
import { type PointLike, toPoint } from "./point";

/**
 * A path that follows the head's surface through its points instead of cutting through the skull: between two
 * points the shortest way over the surface, through more a smooth line. Each point keeps its own lift, and the
 * path changes evenly from one to the next; `lift` adds to all.
 * @example alongHead([head.landmarks.leftTemple, head.landmarks.crown, head.landmarks.rightTemple], { lift: 4 })
 */
export function alongHead(
  points: readonly PointLike[],
  shape: { lift?: number; closed?: boolean } = {},
): Path {
  options(shape, "alongHead", ["lift", "closed"]);
  const { head } = makeContext("alongHead");
  const lift = number(shape.lift ?? 0, "lift of alongHead");
  const closed = shape.closed ?? false;
  const least = closed ? 3 : 2;
  if (!Array.isArray(points) || points.length < least) {
    throw designError({
      id: "too-few-points",
      text: "alongHead has too few points",
      suggestion: `give a list of at least ${least} points`,
    });
  }
  const places = points.map((point, i) => head.coordinatesOf(toPoint(point, `point ${i + 1} of alongHead`)));
  const lifted = (place: HeadCoordinates, own: number) => head.at({ ...place, lift: own + lift }).position;

  if (places.length === 2) {
    const line = head.surfaceLine(places[0], places[1]);
    const last = line.length - 1;
    const ownLift = (i: number) => places[0].lift + ((places[1].lift - places[0].lift) * i) / last;
    return new Path({
      kind: "through",
      closed: false,
      points: line.map((place, i) => lifted(place, ownLift(i))),
    });
  }

  // A smooth spline through the directions from the middle of the head, laid back on the surface.
  const { directions, indices } = withMidpoints(places.map(direction), closed);
  const curve = new Curve({ kind: "through", points: directions, closed });
  const lifts = [...places, ...(closed ? [places[0]] : [])].map((place) => place.lift);
  const shares = lifts.map((_, i) => (i === places.length ? 1 : curve.shareAtPoint(indices[i])));
  // The interpolation of radii, which are above nothing, serves for lifts measured from below the least.
  const floor = Math.min(...lifts) - 1;
  const profile = radiusProfile({ shares, radii: lifts.map((own) => own - floor) });
  const at = (share: number): Vec3 => {
    const [x, y, z] = normalize(curve.pointAt(share));
    const place = { azimuth: degrees(Math.atan2(x, y)), elevation: degrees(Math.asin(clamp(z, -1, 1))) };
    return lifted(place, profile.at(share) + floor);
  };
  // Even steps from each given point to the next, so that the path passes through all of them.
  const path = shares.slice(0, -1).flatMap((from, i) => {
    const stretch = shares[i + 1] - from;
    const steps = Math.max(2, Math.ceil((stretch * curve.length) / step));
    return Array.from({ length: steps }, (_, k) => at(from + (stretch * k) / steps));
  });
  return new Path({ kind: "through", closed, points: closed ? path : [...path, at(1)] });
}

/** Steps along the surface, radians about the middle of the head: some 4 mm. */
const step = 0.045;

const direction = ({ azimuth, elevation }: HeadCoordinates): Vec3 => {
  const level = Math.cos(radians(elevation));
  return [
    level * Math.sin(radians(azimuth)),
    level * Math.cos(radians(azimuth)),
    Math.sin(radians(elevation)),
  ];
};

/**
 * Adds the middle of each wide step, so that the spline keeps to the outside of the head; `indices` tell where the
 * given directions stand among the others.
 */
function withMidpoints(
  given: readonly Vec3[],
  closed: boolean,
): { directions: readonly Vec3[]; indices: readonly number[] } {
  const directions: Vec3[] = [];
  const indices: number[] = [];
  for (const [i, here] of given.entries()) {
    indices.push(directions.length);
    directions.push(here);
    if (i === given.length - 1 && !closed) continue;
    const there = given[(i + 1) % given.length];
    if (dot(here, there) < Math.cos(radians(50))) directions.push(normalize(lerp(here, there, 0.5)));
  }
  return { directions, indices };
}
