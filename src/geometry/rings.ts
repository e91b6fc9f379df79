import { Curve, type CurveSamples, lastAtOrBelow } from "./curve";
import { type SectionAxes, sectionAxes, sectionTurn, type TurnAt } from "./frames";
import { type Section, sectionPolygon, splitEdges } from "./section";
import { type TubeProfile, tubeProfile } from "./tips";
import type { TubeShape } from "./tubeShape";

/** A tube made ready for the sweep: its path measured, its tips worked into the radius, its section a polygon. */
export interface PreparedTube {
  readonly curve: Curve;
  readonly profile: TubeProfile;
  readonly section: Section;
  readonly turnAt: TurnAt;
  /** Turn of the section between the start and the end of a closed tube, seen from outside, radians. */
  readonly seamTwist: number;
}

/** Rings of a sweep, from the path's start to its end. A closed tube has no ring at share 1. */
export interface Rings {
  readonly count: number;
  readonly closed: boolean;
  readonly shares: Float64Array;
  /** mm */
  readonly radii: Float64Array;
  readonly centres: Float64Array;
  readonly tangents: Float64Array;
  /** Axes of the section, unit vectors. */
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/** Measures a tube and checks its data. Throws a MessageError that says what is wrong. */
export function prepareTube(shape: TubeShape, tolerance: number): PreparedTube {
  const curve = new Curve(shape.path);
  const profile = tubeProfile(shape, curve.length);
  let section = sectionPolygon(shape.section, profile.greatest, tolerance);
  const turnAt =
    section.round && !shape.upAtPoints
      ? sectionTurn(curve, 0)
      : sectionTurn(curve, shape.twist, shape.upAtPoints, shape.path.points.length);
  if (!section.round) {
    // A twisted face is a saddle: its edges must be short as well as its rings near.
    const twist = greatestTwist(turnAt, curve.length);
    const edge = Math.sqrt((4 * tolerance) / Math.max(twist, 1e-12));
    if (edge < section.longestEdge * profile.greatest) section = splitEdges(section, edge / profile.greatest);
  }
  const seamTwist = section.round && !shape.upAtPoints ? 0 : (shape.twist * Math.PI) / 180;
  return { curve, profile, section, turnAt, seamTwist };
}

/** Fastest turn of the section along the path, radians per mm. */
function greatestTwist(turnAt: TurnAt, length: number): number {
  const steps = 64;
  let most = 0;
  for (let i = 0; i < steps; i++) {
    most = Math.max(most, Math.abs(turnAt((i + 1) / steps) - turnAt(i / steps)) * (steps / length));
  }
  return most;
}

/** A path between two neighbouring rings turns, and a section twists, by no more than this, radians. */
const greatestTurn = 0.4;
/** A ring lies no farther from the next than this many edges of the section. */
const greatestAspect = 10;

/**
 * Rings where the path bends, the radius curves and the section turns, so that the surface stays within `tolerance` mm:
 * Δ = √(12·tolerance / k), where k = κ(1 + κ·reach) + |r″| + reach·twist² is the curvature of the surface's lengthwise
 * lines. Rings lie outside the true surface by two thirds of the sagitta and the chords inside by one third (see
 * `compensate`), hence 12 where a chord with its ends on the surface would have 8.
 */
export function placeRings(tube: PreparedTube, tolerance: number, from = 0, to = 1): Rings {
  const { curve } = tube;
  const closed = curve.closed && from === 0 && to === 1;
  const { shares, corners } = ringShares(tube, tolerance, from, to);
  const samples = curve.sample(shares);
  const axes = axesAt(tube, shares, samples);
  const radiusAt = (share: number) => tube.profile.radiusAt(share * curve.length);
  const radii = shares.map(radiusAt);
  const { points, tangents } = samples;
  const centres = compensate(curve.length, points, tangents, shares, radii, corners, closed, radiusAt);
  if (!tube.section.round) untwist(shares, radii, tube.turnAt, closed);
  const count = closed ? shares.length - 1 : shares.length;
  return { count, closed, shares, radii, centres, tangents: samples.tangents, ...axes };
}

/** Axes of the section at ascending shares. Frames start at the path's start, so that a stretch turns as the whole does. */
export function axesAt(tube: PreparedTube, shares: Float64Array, samples: CurveSamples): SectionAxes {
  if (shares[0] === 0) return sectionAxes(samples, shares, tube.turnAt);
  const before = Array.from(tube.curve.stations()).filter((station) => station < shares[0] - 1e-9);
  const all = Float64Array.from([...before, ...shares]);
  const axes = sectionAxes(tube.curve.sample(all), all, tube.turnAt);
  return { x: axes.x.slice(before.length * 3), y: axes.y.slice(before.length * 3) };
}

function ringShares(tube: PreparedTube, tolerance: number, from: number, to: number) {
  const { curve, profile, section, turnAt } = tube;
  const length = curve.length;
  const stations = mergedStations(tube, from, to);
  const samples = curve.sample(stations);
  const corners = new Set(
    profile.corners.map((corner) => stations[nearestIndex(stations, corner / length)]).concat([from, to]),
  );
  const count = stations.length;
  const edge = section.perimeter / section.points.length;

  // The number of rings up to each station, as a running sum of 1/Δ.
  const sum = new Float64Array(count);
  const c = samples.curvatures;
  const t = samples.tangents;
  let radius = profile.radiusAt(stations[0] * length);
  let curvature = Math.hypot(c[0], c[1], c[2]);
  for (let i = 0; i + 1 < count; i++) {
    const h = (stations[i + 1] - stations[i]) * length;
    const next = profile.radiusAt(stations[i + 1] * length);
    const middle = profile.radiusAt(((stations[i] + stations[i + 1]) / 2) * length);
    const j = (i + 1) * 3;
    const nextCurvature = Math.sqrt(c[j] * c[j] + c[j + 1] * c[j + 1] + c[j + 2] * c[j + 2]);
    const tilt = Math.hypot(t[j] - t[j - 3], t[j + 1] - t[j - 2], t[j + 2] - t[j - 1]);
    // Curvature at a cusp has no bound; the turn between two stations has.
    const bend = Math.min(Math.max(curvature, nextCurvature), (4 * tilt) / h);
    const reach = Math.max(radius, next) * section.reach;
    const slope = (next - radius) / h;
    const bow = (8 * Math.abs(middle - (radius + next) / 2)) / (h * h);
    const twist = section.round ? 0 : Math.abs(turnAt(stations[i + 1]) - turnAt(stations[i])) / h;
    const lengthwise = bend * (1 + bend * reach) + bow / Math.sqrt(1 + slope * slope) + reach * twist * twist;
    const width = edge * Math.max(radius, next, profile.greatest / 8);
    const density = Math.max(
      Math.sqrt(lengthwise / (12 * tolerance)),
      bend / greatestTurn,
      twist / greatestTurn,
      (twist * section.longestEdge * Math.max(radius, next)) / (4 * tolerance),
      1 / (greatestAspect * width),
    );
    sum[i + 1] = sum[i] + density * h;
    radius = next;
    curvature = nextCurvature;
  }

  const shares = [stations[0]];
  let last = 0;
  for (let i = 1; i < count; i++) {
    if (!corners.has(stations[i])) continue;
    const pieces = Math.max(1, Math.ceil(sum[i] - sum[last] - 1e-9));
    for (let k = 1; k < pieces; k++) {
      const wanted = sum[last] + ((sum[i] - sum[last]) * k) / pieces;
      const at = Math.min(count - 2, lastAtOrBelow(sum, wanted));
      const into = (wanted - sum[at]) / (sum[at + 1] - sum[at]);
      shares.push(stations[at] + into * (stations[at + 1] - stations[at]));
    }
    shares.push(stations[i]);
    last = i;
  }
  return { shares: ringsAtKinks(shares, stations, corners, tube, tolerance), corners };
}

/** Radius between two rings may leave the straight line between theirs by this many tolerances: more is a kink. */
const greatestBow = 1.6;
/** The same beside a kink, where no neighbour makes up for what the line cuts off. */
const greatestBowAtKink = 0.25;

/**
 * Adds rings where the radius leaps or has a corner between two rings: too short a stretch to count among the rings by
 * curvature. They and their neighbours are corners, since what lies beside a leap says nothing about the bow there.
 */
function ringsAtKinks(
  shares: readonly number[],
  stations: Float64Array,
  corners: Set<number>,
  { profile, curve }: PreparedTube,
  tolerance: number,
): Float64Array {
  const radii = stations.map((share) => profile.radiusAt(share * curve.length));
  const all: number[] = [shares[0]];
  const refine = (from: number, to: number, tolerances: number): void => {
    const [r0, r1] = [profile.radiusAt(from * curve.length), profile.radiusAt(to * curve.length)];
    let most = tolerances * tolerance;
    let at = -1;
    for (let i = lastAtOrBelow(stations, from) + 1; i < stations.length && stations[i] < to; i++) {
      const bow = Math.abs(radii[i] - r0 - ((r1 - r0) * (stations[i] - from)) / (to - from));
      if (bow > most) [most, at] = [bow, i];
    }
    if (at < 0) {
      all.push(to);
      return;
    }
    for (const corner of [from, stations[at], to]) corners.add(corner);
    refine(from, stations[at], greatestBowAtKink);
    refine(stations[at], to, greatestBowAtKink);
  };
  for (let i = 0; i + 1 < shares.length; i++) refine(shares[i], shares[i + 1], greatestBow);
  return Float64Array.from(all);
}

/** Shares at which path and radius are looked at: dense where either changes. */
function mergedStations(tube: PreparedTube, from: number, to: number): Float64Array {
  const length = tube.curve.length;
  const marks = [from, to, ...tube.profile.corners.map((corner) => corner / length)];
  for (const station of tube.curve.stations()) marks.push(station);
  const knots = tube.profile.knots.map((knot) => knot / length).sort((a, b) => a - b);
  for (let i = 0; i + 1 < knots.length; i++) {
    for (let k = 0; k < 4; k++) marks.push(knots[i] + ((knots[i + 1] - knots[i]) * k) / 4);
  }
  const sorted = Float64Array.from(marks).sort();
  const least = 1e-7;
  const kept: number[] = [];
  for (const share of sorted) {
    if (share < from || share > to) continue;
    if (kept.length > 0 && share - kept[kept.length - 1] < least) continue;
    kept.push(share);
  }
  if (to - kept[kept.length - 1] > 0 && kept.length > 1) kept[kept.length - 1] = to;
  return Float64Array.from(kept);
}

function nearestIndex(ascending: Float64Array, value: number): number {
  const i = lastAtOrBelow(ascending, value);
  return i + 1 < ascending.length && ascending[i + 1] - value < value - ascending[i] ? i + 1 : i;
}

/**
 * Moves and widens rings so that what the chords between them cut off is given back. A wedge of angle φ between two
 * rings holds sin φ / φ of its sector, so it loses φ²/6: half is made up by moving the ring out by κΔ²/12 (two thirds of
 * the sagitta, which also halves the greatest deviation), half by widening its area by φ²/12. A bowed radius is lifted
 * by two thirds of its bow over the chord, which is -r″Δ²/12. Ends of an open tube stay where they are. Changes `radii`,
 * returns the centres.
 */
function compensate(
  length: number,
  points: Float64Array,
  tangents: Float64Array,
  shares: Float64Array,
  radii: Float64Array,
  corners: ReadonlySet<number>,
  closed: boolean,
  radiusAt: (share: number) => number,
): Float64Array {
  const centres = points.slice();
  const last = shares.length - 1;
  const lifted = radii.slice();
  // How far the radius rises over the straight line, in the middle between each ring and the next.
  const bows = Array.from(
    { length: last },
    (_, i) => radiusAt((shares[i] + shares[i + 1]) / 2) - (radii[i] + radii[i + 1]) / 2,
  );
  for (let i = closed ? 0 : 1; i < last; i++) {
    const a = i * 3;
    const before = i === 0 ? last - 1 : i - 1;
    const h0 = (i === 0 ? shares[last] - shares[before] : shares[i] - shares[before]) * length;
    const h1 = (shares[i + 1] - shares[i]) * length;
    const square = (h0 * h0 + h1 * h1) / 2;
    const b = before * 3;
    const d: number[] = [];
    for (let axis = 0; axis < 3; axis++) {
      const ahead = (points[a + 3 + axis] - points[a + axis]) / h1;
      const behind = (points[a + axis] - points[b + axis]) / h0;
      d.push((2 * (ahead - behind)) / (h0 + h1));
    }
    const along = d[0] * tangents[a] + d[1] * tangents[a + 1] + d[2] * tangents[a + 2];
    let bend = 0;
    for (let axis = 0; axis < 3; axis++) {
      const across = d[axis] - along * tangents[a + axis];
      centres[a + axis] -= (across * square) / 12;
      bend += across * across;
    }
    if (!corners.has(shares[i])) lifted[i] += (bows[before] + bows[i]) / 3;
    lifted[i] *= 1 + (bend * square) / 24;
  }
  radii.set(lifted);
  return centres;
}

/** Widens twisted rings: between two sections turned by φ the area falls by φ²/6 on the mean. */
function untwist(shares: Float64Array, radii: Float64Array, turnAt: TurnAt, closed: boolean): void {
  const last = shares.length - 1;
  const turns = shares.map(turnAt);
  for (let i = 0; i <= last; i++) {
    const before = i > 0 ? turns[i] - turns[i - 1] : closed ? turns[last] - turns[last - 1] : 0;
    const after = i < last ? turns[i + 1] - turns[i] : 0;
    radii[i] *= 1 + (before * before + after * after) / 24;
  }
}
