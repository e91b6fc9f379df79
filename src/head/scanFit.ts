import { type EvenSamples, evenSamples } from "../geometry/evenSamples";
import type { TriangleMesh } from "../geometry/mesh";
import { emptyPlace, TriangleTree } from "../geometry/triangleTree";
import type { Vec3 } from "../geometry/vector";
import type { HeadDirection } from "./coordinates";
import type { HeadForm } from "./headForm";
import { inRegion } from "./regions";
import { movedBy, type ScanPose } from "./scanPose";

/** Places of a head form that a scan is fitted to: spread evenly, in an order that leaves any first few spread too. */
export interface FitPoints {
  readonly count: number;
  /** x, y, z of each in turn, mm, head frame. */
  readonly positions: Float64Array;
  readonly normals: Float64Array;
  /** How much each counts. */
  readonly weights: Float64Array;
  /** Where each lies. */
  readonly zones: readonly FitZone[];
  /** Whether hair grows there. */
  readonly haired: readonly boolean[];
  /** Point that turns are taken about: the middle of the cranium. */
  readonly centre: Vec3;
}

/** `cranium`: above the girth; `face`; `behind`: the rest down to the nape. Ears and neck are left out. */
export type FitZone = "cranium" | "face" | "behind";

/** The cranium was measured; the face and the nape are the mean person's, and serve to tell front, and to level. */
const zoneWeights: Readonly<Record<FitZone, number>> = { cranium: 1, face: 0.6, behind: 0.4 };

/** Elevation below which the back of the head is neck, degrees. */
const lowestBehind = -42;

/** So many points of a head form, about, for a fit. */
export function fitPoints(form: HeadForm, count: number): FitPoints {
  const all = evenSamples(form.mesh(), 2 * count);
  const positions: number[] = [];
  const normals: number[] = [];
  const weights: number[] = [];
  const zones: FitZone[] = [];
  const haired: boolean[] = [];
  // A stride near the golden section of the count visits all of them, each far from the last ones.
  let stride = Math.round(all.count * 0.618034);
  while (greatestDivisor(stride, all.count) !== 1) stride++;
  for (let i = 0, at = 0; i < all.count; i++, at = (at + stride) % all.count) {
    const point = all.positions.subarray(3 * at, 3 * at + 3);
    const place = form.directionOf([point[0], point[1], point[2]]);
    const zone = zoneOf(place);
    if (zone === undefined) continue;
    positions.push(...point);
    normals.push(...all.normals.subarray(3 * at, 3 * at + 3));
    weights.push(zoneWeights[zone]);
    zones.push(zone);
    haired.push(inRegion("hair", place));
  }
  const [x, y, z] = form.center;
  return {
    count: zones.length,
    positions: Float64Array.from(positions),
    normals: Float64Array.from(normals),
    weights: Float64Array.from(weights),
    zones,
    haired,
    centre: [x, y, z],
  };
}

function zoneOf(place: HeadDirection): FitZone | undefined {
  if (place.elevation >= 0) return "cranium";
  if (inRegion("ears", place)) return undefined;
  if (Math.abs(place.azimuth) < 78) return place.elevation >= -58 ? "face" : undefined;
  return place.elevation >= lowestBehind ? "behind" : undefined;
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b));

/** A scan's surface as points, in its own units and frame. */
export class ScanCloud {
  readonly samples: EvenSamples;
  /** Distance between neighbouring points, about, in the scan's units. */
  readonly spacing: number;
  readonly tree: TriangleTree;

  constructor(mesh: TriangleMesh, count: number, keep?: (triangle: number) => boolean) {
    this.samples = evenSamples(mesh, count, keep);
    this.spacing = Math.sqrt(this.samples.area);
    // A point is a triangle whose corners are one.
    const triangles = new Uint32Array(3 * this.samples.count);
    for (let i = 0; i < triangles.length; i++) triangles[i] = (i / 3) | 0;
    this.tree = new TriangleTree({ positions: this.samples.positions, triangles });
  }
}

/** Points of the form and the scan's point nearest to each. */
interface Pairs {
  /** Of the scan's nearest point in the head frame, mm. */
  readonly near: Float64Array;
  /**
   * Distance, mm: along the form's normal where the scan lies before or behind the form's point, else to the nearest
   * point. Infinity where nothing is within reach or the scan faces elsewhere.
   */
  readonly distances: Float64Array;
  /** Along the form's normal, mm: positive where the scan stands off the form. */
  readonly offsets: Float64Array;
  /** Across it, mm; Infinity where nothing is within reach. */
  readonly asides: Float64Array;
}

/** Cosine of the angle that the two surfaces may differ by. */
const leastAgreement = 0.2;

function pair(points: FitPoints, count: number, cloud: ScanCloud, pose: ScanPose, reach: number): Pairs {
  const { rotation: r, scale, shift } = pose;
  const near = new Float64Array(3 * count);
  const distances = new Float64Array(count);
  const offsets = new Float64Array(count);
  const asides = new Float64Array(count).fill(Infinity);
  const place = emptyPlace();
  const { normals: scanNormals } = cloud.samples;
  const aside = 1.5 * cloud.spacing * scale;
  for (let i = 0; i < count; i++) {
    const [x, y, z] = [points.positions[3 * i], points.positions[3 * i + 1], points.positions[3 * i + 2]];
    const [a, b, c] = [(x - shift[0]) / scale, (y - shift[1]) / scale, (z - shift[2]) / scale];
    cloud.tree.nearest(
      r[0] * a + r[3] * b + r[6] * c,
      r[1] * a + r[4] * b + r[7] * c,
      r[2] * a + r[5] * b + r[8] * c,
      place,
      reach / scale,
    );
    distances[i] = Infinity;
    if (place.triangle < 0) continue;
    const [px, py, pz] = [place.x, place.y, place.z];
    near[3 * i] = scale * (r[0] * px + r[1] * py + r[2] * pz) + shift[0];
    near[3 * i + 1] = scale * (r[3] * px + r[4] * py + r[5] * pz) + shift[1];
    near[3 * i + 2] = scale * (r[6] * px + r[7] * py + r[8] * pz) + shift[2];
    const [nx, ny, nz] = [points.normals[3 * i], points.normals[3 * i + 1], points.normals[3 * i + 2]];
    const along = nx * (near[3 * i] - x) + ny * (near[3 * i + 1] - y) + nz * (near[3 * i + 2] - z);
    const whole = scale * place.distance;
    offsets[i] = along;
    asides[i] = Math.sqrt(Math.max(0, whole * whole - along * along));
    const at = 3 * place.triangle;
    const [mx, my, mz] = [scanNormals[at], scanNormals[at + 1], scanNormals[at + 2]];
    const agreement =
      nx * (r[0] * mx + r[1] * my + r[2] * mz) +
      ny * (r[3] * mx + r[4] * my + r[5] * mz) +
      nz * (r[6] * mx + r[7] * my + r[8] * mz);
    if (agreement >= leastAgreement) distances[i] = asides[i] <= aside ? Math.abs(along) : whole;
  }
  return { near, distances, offsets, asides };
}

/** How well a scan fits in a pose. */
export interface Fit {
  readonly pose: ScanPose;
  /** Mean distance of the form's points, each counted by its weight and up to a cap, mm. */
  readonly cost: number;
}

/** The mean distance of the first `count` points, none counted above `cap` mm. */
export function costOf(
  points: FitPoints,
  count: number,
  cloud: ScanCloud,
  pose: ScanPose,
  cap: number,
): number {
  const { distances } = pair(points, count, cloud, pose, cap);
  let sum = 0;
  let whole = 0;
  for (let i = 0; i < count; i++) {
    sum += points.weights[i] * Math.min(cap, distances[i]);
    whole += points.weights[i];
  }
  return sum / whole;
}

/** Which points of a form are meant. */
export type PointChoice = (points: FitPoints, i: number) => boolean;
export const onCranium: PointChoice = (points, i) => points.zones[i] === "cranium";
export const onFace: PointChoice = (points, i) => points.zones[i] === "face";
export const whereBare: PointChoice = (points, i) => points.zones[i] !== "behind" && !points.haired[i];

/** How a scan lies to the chosen points of a form. */
export interface Lie {
  /** Distances, mm, the least first; Infinity where the scan has nothing within reach, or faces elsewhere. */
  readonly distances: Float64Array;
  /** How far the scan stands off, mm, the least first; negative where it lies within the form. */
  readonly offsets: Float64Array;
  /** Share of the points that the scan passes by. */
  readonly missing: number;
}

/** A point is passed by where the scan's nearest place is farther aside than this, mm. */
const passedBy = 9;

/** @param reach mm up to which the scan is looked for */
export function lieOf(
  points: FitPoints,
  choice: PointChoice,
  cloud: ScanCloud,
  pose: ScanPose,
  reach: number,
): Lie {
  const { distances, offsets, asides } = pair(points, points.count, cloud, pose, reach);
  const chosen = distances.filter((_, i) => choice(points, i)).sort();
  const gap = passedBy + cloud.spacing * pose.scale;
  let missing = 0;
  for (let i = 0; i < points.count; i++) if (choice(points, i) && asides[i] > gap) missing++;
  return {
    distances: chosen,
    offsets: offsets.filter((_, i) => choice(points, i) && distances[i] < Infinity).sort(),
    missing: missing / chosen.length,
  };
}

export interface Refining {
  /** Points of the form that are used. */
  readonly count: number;
  readonly steps: number;
  /** Whether the scale is sought too. */
  readonly scaled: boolean;
  /** Distance up to which points are paired, mm. */
  readonly reach: number;
  /** Whether what stands off where hair grows is taken for hair, and counts next to nothing. */
  readonly hairy?: boolean;
}

/** Pairs farther apart than this many times the median are left out. */
const trimmedBeyond = 2.5;
/** What a point counts that is taken for hair: enough to hold a scan that is nothing but hair. */
const hairWeight = 0.005;
const mostTurn = 0.2;
const mostMove = 25;
const mostGrowth = 0.1;

/**
 * Moves a pose until the scan fits the form best: each point of the form is paired with the scan's nearest, the worst
 * pairs are left out (trimmed ICP, Chetverikov et al. 2002, *The trimmed iterative closest point algorithm*, ICPR), and
 * the distances along the form's normals are made least (Chen & Medioni 1992, *Object modelling by registration of
 * multiple range images*, Image and Vision Computing 10), by a turn, a move and, where asked, a growth.
 */
export function refine(points: FitPoints, cloud: ScanCloud, start: ScanPose, how: Refining): ScanPose {
  const { steps, scaled, reach, hairy = false } = how;
  const count = Math.min(how.count, points.count);
  const { centre } = points;
  let pose = start;
  for (let step = 0; step < steps; step++) {
    const { near, distances, offsets } = pair(points, count, cloud, pose, reach);
    const found = distances.filter((distance) => distance < Infinity).sort();
    if (found.length < 20) return pose;
    const most = Math.max(trimmedBeyond * found[found.length >> 1], 1.5 * cloud.spacing * pose.scale);
    const size = scaled ? 7 : 6;
    const normal = new Float64Array(size * size);
    const right = new Float64Array(size);
    const row = new Float64Array(size);
    for (let i = 0; i < count; i++) {
      if (distances[i] > most) continue;
      const [nx, ny, nz] = [points.normals[3 * i], points.normals[3 * i + 1], points.normals[3 * i + 2]];
      const [x, y, z] = [near[3 * i] - centre[0], near[3 * i + 1] - centre[1], near[3 * i + 2] - centre[2]];
      row[0] = y * nz - z * ny;
      row[1] = z * nx - x * nz;
      row[2] = x * ny - y * nx;
      row[3] = nx;
      row[4] = ny;
      row[5] = nz;
      if (scaled) row[6] = x * nx + y * ny + z * nz;
      const asHair = hairy && points.haired[i] && offsets[i] > 0;
      const weight = asHair ? hairWeight * points.weights[i] : points.weights[i];
      for (let a = 0; a < size; a++) {
        right[a] -= weight * row[a] * offsets[i];
        for (let b = 0; b <= a; b++) normal[size * a + b] += weight * row[a] * row[b];
      }
    }
    const solution = solved(normal, right, size);
    if (solution === undefined) return pose;
    const turn = limited([solution[0], solution[1], solution[2]], mostTurn);
    const move = limited([solution[3], solution[4], solution[5]], mostMove);
    const growth = scaled ? Math.min(mostGrowth, Math.max(-mostGrowth, solution[6])) : 0;
    pose = movedBy(pose, centre, turn, 1 + growth, move);
    if (Math.hypot(...turn) < 1e-5 && Math.hypot(...move) < 1e-3 && Math.abs(growth) < 1e-5) break;
  }
  return pose;
}

function limited(step: Vec3, most: number): Vec3 {
  const size = Math.hypot(...step);
  return size > most ? [(step[0] * most) / size, (step[1] * most) / size, (step[2] * most) / size] : step;
}

/** Solves a symmetric positive system given by its lower triangle (Cholesky), slightly damped; none if singular. */
function solved(matrix: Float64Array, right: Float64Array, size: number): Float64Array | undefined {
  const l = new Float64Array(matrix);
  for (let a = 0; a < size; a++) l[size * a + a] *= 1 + 1e-6;
  for (let a = 0; a < size; a++) {
    for (let b = 0; b <= a; b++) {
      let sum = l[size * a + b];
      for (let k = 0; k < b; k++) sum -= l[size * a + k] * l[size * b + k];
      if (a === b) {
        if (!(sum > 0)) return undefined;
        l[size * a + a] = Math.sqrt(sum);
      } else l[size * a + b] = sum / l[size * b + b];
    }
  }
  const x = new Float64Array(right);
  for (let a = 0; a < size; a++) {
    for (let k = 0; k < a; k++) x[a] -= l[size * a + k] * x[k];
    x[a] /= l[size * a + a];
  }
  for (let a = size - 1; a >= 0; a--) {
    for (let k = a + 1; k < size; k++) x[a] -= l[size * k + a] * x[k];
    x[a] /= l[size * a + a];
  }
  return x;
}
