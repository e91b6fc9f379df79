import { distance, type Vec3 } from "../../geometry/vector";
import type { WornPiece } from "../wornPiece";
import { bridgesOf } from "./bridges";
import { type Junction, junctionsOf } from "./junctions";
import { planeExtent } from "./planeExtent";
import { type Skeleton, seamPoint } from "./skeleton";
import type { TubeLine } from "./tubeLine";

/** A place where two parts grow together. */
export interface Neck {
  /** Indices of the parts. */
  readonly first: number;
  readonly second: number;
  /** Least width of what joins them, mm. */
  readonly width: number;
  /** Its area, mm²; of an end that stands in a body, that of an ellipse. */
  readonly area: number;
  readonly at: Vec3;
  /** For two round tubes side by side: their radii and the distance of their centre lines, mm. */
  readonly lens?: { readonly radii: readonly [number, number]; readonly apart: number };
  /** Of the parts that are tubes, half of the least width of the section there, mm. */
  readonly halfWidths: readonly [number | undefined, number | undefined];
}

/** What the necks of a piece come to. */
export interface NecksFound {
  /** Places in which two parts meet. */
  readonly count: number;
  /** Of all parts, each with the widest neck that holds it, the one that is held by the least. */
  readonly thinnest?: Neck;
  /** Parts that hang by thin necks alone, with the widest of those that hold each; the thinnest first. */
  readonly thin: readonly { readonly part: number; readonly neck: Neck }[];
}

/**
 * Half the chord in which two circles cross, and its distance from the first one's centre: a = (d² + r₁² − r₂²) / 2d,
 * h² = r₁² − a². Where one lies within the other h is the lesser radius; 0 where they are apart.
 */
export function lens(r1: number, r2: number, d: number): number {
  if (d >= r1 + r2) return 0;
  if (d <= Math.abs(r1 - r2)) return Math.min(r1, r2);
  const a = (d * d + r1 * r1 - r2 * r2) / (2 * d);
  // Past the middle of the lesser circle its own diameter is what joins it.
  if (a < 0 || a > d) return Math.min(r1, r2);
  return Math.sqrt(Math.max(0, r1 * r1 - a * a));
}

/** Distance of the centre lines at which two round tubes join in a lens of half width h, mm. */
export const lensDistance = (r1: number, r2: number, h: number): number =>
  Math.sqrt(Math.max(0, r1 * r1 - h * h)) + Math.sqrt(Math.max(0, r2 * r2 - h * h));

/**
 * The necks by which parts hold, each a closed line in which two surfaces meet. Two round tubes that cross or graze
 * join in a lens of two circles; all else is measured on the line itself: its least width in its own plane, unless the
 * hollow has taken some of it away. Where a third part covers some of the line, more than the two hold together: that is
 * no neck.
 */
export function necksOf(skeleton: Skeleton, piece: WornPiece, leastWidth: number): NecksFound {
  const junctions = junctionsOf(skeleton, piece);
  const parts = piece.parts.length;
  const known = new Map<Junction, Neck | undefined>();
  const neckAt = (junction: Junction): Neck | undefined => {
    if (!known.has(junction)) known.set(junction, neckOf(skeleton, junction));
    return known.get(junction);
  };
  const isThin = (neck: Neck): boolean => neck.width < leastWidth && neck.area < leastWidth * leastWidth;
  const held: Junction[][] = Array.from({ length: parts }, () => []);
  for (const junction of junctions) {
    held[junction.first].push(junction);
    held[junction.second].push(junction);
  }
  const size = sizes(skeleton, parts);
  const thin = new Map<number, Neck>();
  const told = new Set<Neck>();
  let thinnest: Neck | undefined;
  const least = (neck: Neck): void => {
    if (!thinnest || neck.width < thinnest.width) thinnest = neck;
  };
  // What hangs by one neck: the lighter side.
  const ends = junctions.flatMap(({ first, second }) => [first, second]);
  const { isBridge, beyond, place, end, order, component } = bridgesOf({ nodes: parts, ends });
  const whole = new Float64Array(parts);
  for (let part = 0; part < parts; part++) whole[component[part]] += size[part];
  junctions.forEach((junction, i) => {
    if (!isBridge[i] || junction.covered) return;
    const neck = neckAt(junction);
    if (!neck) return;
    least(neck);
    if (!isThin(neck)) return;
    const far = beyond[i];
    let there = 0;
    for (let k = place[far]; k < end[far]; k++) there += size[order[k]];
    const near = junction.first === far ? junction.second : junction.first;
    const hangs = there <= whole[component[far]] - there ? far : near;
    told.add(neck);
    if (!thin.has(hangs)) thin.set(hangs, neck);
  });
  // What holds by several, all of them thin: told of its widest.
  for (let part = 0; part < parts; part++) {
    if (held[part].length === 0 || held[part].some(({ covered }) => covered)) continue;
    const necks: Neck[] = [];
    for (const junction of held[part]) {
      const neck = neckAt(junction);
      if (neck) necks.push(neck);
    }
    if (necks.length < held[part].length) continue;
    const widest = necks.reduce((most, neck) => (neck.width > most.width ? neck : most));
    least(widest);
    if (!necks.every(isThin) || necks.some((neck) => told.has(neck))) continue;
    if (size[part] > whole[component[part]] / 2) continue;
    thin.set(part, widest);
    for (const neck of necks) told.add(neck);
  }
  return {
    count: junctions.length,
    ...(thinnest && { thinnest }),
    thin: [...thin]
      .map(([part, neck]) => ({ part, neck }))
      .sort((a, b) => a.neck.width - b.neck.width || a.part - b.part),
  };
}

/** Volume of each part, mm³, as far as it is told by its skeleton. */
function sizes(skeleton: Skeleton, parts: number): Float64Array {
  const size = new Float64Array(parts);
  skeleton.limbOf.forEach(({ part }, node) => {
    size[part] += skeleton.mass[node];
  });
  return size;
}

function neckOf(skeleton: Skeleton, junction: Junction): Neck | undefined {
  const { first, second, entries, cutOff } = junction;
  const { limbs } = skeleton;
  const [one, other] = [limbs[first]?.line, limbs[second]?.line];
  const halfWidths = [
    one && halfWidthAt(one, skeleton.firstNode[entries[0]] - limbs[first]!.first),
    other && halfWidthAt(other, skeleton.secondNode[entries[0]] - limbs[second]!.first),
  ] as const;
  if (one && other && !one.outline && !other.outline) {
    const near = approach(skeleton, junction, one, other);
    if (near && !near.atEnd) {
      const half = lens(near.radii[0], near.radii[1], near.apart);
      const along = extentAlong(skeleton, entries, near.along);
      const area = Math.min(
        (4 * half * half) / Math.max(near.sine, 1e-6),
        Math.max(2 * half * along, Math.PI * half * half),
      );
      return {
        first,
        second,
        width: 2 * half,
        area,
        at: near.at,
        lens: { radii: near.radii, apart: near.apart },
        halfWidths,
      };
    }
  }
  if (cutOff || entries.length < 4) return undefined;
  const points = entries.map((entry) => seamPoint(skeleton, entry));
  const extent = planeExtent(points);
  if (!extent) return undefined;
  return {
    first,
    second,
    width: extent.least,
    area: (Math.PI / 4) * extent.least * extent.across,
    at: extent.middle,
    halfWidths,
  };
}

const halfWidthAt = ({ moments, radii }: TubeLine, sample: number): number =>
  Math.min(moments.half[0], moments.half[1]) * radii[sample];

interface Approach {
  readonly apart: number;
  readonly radii: readonly [number, number];
  readonly at: Vec3;
  /** Of the angle between the two. */
  readonly sine: number;
  readonly along: Vec3;
  /** Whether an open end of either is what comes nearest. */
  readonly atEnd: boolean;
}

/** Where the centre lines of two tubes come nearest along a junction. */
function approach(
  { firstNode, secondNode, limbs, alive }: Skeleton,
  { first, second, entries }: Junction,
  one: TubeLine,
  other: TubeLine,
): Approach | undefined {
  const rangeOf = (line: TubeLine, nodes: Int32Array, base: number): number[] => {
    const samples = new Set<number>();
    for (const entry of entries) {
      for (let step = -2; step <= 2; step++) {
        const at = nodes[entry] - base + step;
        if (line.closed) samples.add((at + line.count) % line.count);
        else if (at >= 0 && at < line.count) samples.add(at);
      }
    }
    return [...samples];
  };
  const [base, otherBase] = [limbs[first]!.first, limbs[second]!.first];
  const mine = rangeOf(one, firstNode, base);
  const theirs = rangeOf(other, secondNode, otherBase);
  let best = Infinity;
  let pair: readonly [number, number] | undefined;
  for (const i of mine) {
    if (!alive[base + i] && !isOpenEnd(one, i)) continue;
    for (const j of theirs) {
      const d =
        (one.points[3 * i] - other.points[3 * j]) ** 2 +
        (one.points[3 * i + 1] - other.points[3 * j + 1]) ** 2 +
        (one.points[3 * i + 2] - other.points[3 * j + 2]) ** 2;
      // Two that run side by side are as near anywhere: not at an end, then.
      const penalty =
        isNearEnd(one, i) || isNearEnd(other, j) ? 0.02 * (one.radii[i] + other.radii[j]) ** 2 : 0;
      if (d + penalty >= best) continue;
      best = d + penalty;
      pair = [i, j];
    }
  }
  if (!pair) return undefined;
  // Between samples: each in turn moves to the foot of the other.
  let [s, t] = [one.positions[pair[0]], other.positions[pair[1]]];
  let [a, b] = [one.at(s), other.at(t)];
  const slide = (line: TubeLine, from: typeof a, to: Vec3): typeof a => {
    const along = [0, 1, 2].reduce(
      (sum, axis) => sum + (to[axis] - from.point[axis]) * from.tangent[axis],
      0,
    );
    return line.at(from.position + Math.max(-2, Math.min(2, along)));
  };
  for (let round = 0; round < 24; round++) {
    a = slide(one, a, b.point);
    b = slide(other, b, a.point);
    const still = Math.abs(a.position - s) + Math.abs(b.position - t) < 1e-6;
    [s, t] = [a.position, b.position];
    if (still) break;
  }
  const cosine = Math.abs(
    a.tangent[0] * b.tangent[0] + a.tangent[1] * b.tangent[1] + a.tangent[2] * b.tangent[2],
  );
  return {
    apart: distance(a.point, b.point),
    radii: [a.radius, b.radius],
    at: [0, 1, 2].map((axis) => (a.point[axis] + b.point[axis]) / 2) as unknown as Vec3,
    sine: Math.sqrt(Math.max(0, 1 - cosine * cosine)),
    along: a.radius < b.radius ? a.tangent : b.tangent,
    atEnd: isNear(one, a.position, a.radius) || isNear(other, b.position, b.radius),
  };
}

/** Whether a position lies within a radius of an open end. */
const isNear = (line: TubeLine, position: number, radius: number): boolean =>
  !line.closed && (position < radius || line.length - position < radius);

const isNearEnd = (line: TubeLine, i: number): boolean => isNear(line, line.positions[i], line.radii[i]);

const isOpenEnd = (line: TubeLine, i: number): boolean => !line.closed && (i === 0 || i === line.count - 1);

function extentAlong(skeleton: Skeleton, entries: readonly number[], along: Vec3): number {
  let [least, most] = [Infinity, -Infinity];
  for (const entry of entries) {
    const p = seamPoint(skeleton, entry);
    const k = p[0] * along[0] + p[1] * along[1] + p[2] * along[2];
    least = Math.min(least, k);
    most = Math.max(most, k);
  }
  return most - least;
}
