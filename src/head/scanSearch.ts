import type { TriangleMesh } from "../geometry/mesh";
import { anyPerpendicular, cross, normalize, type Vec3 } from "../geometry/vector";
import type { HeadForm } from "./headForm";
import { girthDepth } from "./headRadii";
import { costOf, type Fit, type FitPoints, refine, ScanCloud } from "./scanFit";
import { angleBetween, type ScanPose, times } from "./scanPose";

/** Directions that may be up, and turns about each. The turns are even, so that each has its opposite. */
const upDirections = 120;
const turns = 16;
/** Points that a first look takes, and distances it counts no further, mm. */
const lookPoints = 70;
const lookCap = 25;
/** Poses that are refined roughly, at most so many of them with one direction up; then finely. */
const roughPoses = 36;
const roughPerDirection = 3;
const finePoses = 5;
const cloudPoints = 6000;
const finePoints = 16_000;
/** Share by which a level extent may differ from the head form's, for a scale that is known or one of a series. */
const extentOfKnown: readonly [number, number] = [0.78, 1.4];
const extentOfSeries: readonly [number, number] = [0.88, 1.22];
const seriesStep = 1.2;
/** The head's greatest extent and the greatest of a scan that holds one, a standing body's, mm. */
const leastExtent = 150;
const greatestExtent = 2300;

/** What a search found. */
export interface SearchResult {
  readonly best: Fit;
  /** The best fit with the face where the back was. */
  readonly reversed: Fit;
  /** Points of the scan round the head. */
  readonly cloud: ScanCloud;
}

/** Distance up to which points count in a fine fit, mm. */
export const fineCap = 15;
export const fineRefining = { count: 1500, steps: 40, scaled: true, reach: 30 } as const;

/**
 * Seeks the head in a scan whose scale is one of those given, mm for a unit, or, with none given, any: in all
 * directions, then turned about each (the twenty-four ways along the axes are among them), the crown is laid where the
 * scan ends in that direction; the best by a first look are refined. Undefined where nothing has a head's extents.
 */
export function searchHead(
  mesh: TriangleMesh,
  form: HeadForm,
  points: FitPoints,
  scales: readonly number[],
): SearchResult | undefined {
  const cloud = new ScanCloud(mesh, cloudPoints);
  const extent = greatestExtentOf(cloud);
  const known = scales.filter((s) => s * extent >= leastExtent && s * extent <= greatestExtent);
  const poses =
    scales.length > 0
      ? known.flatMap((s) => startingPoses(cloud, form, s, extentOfKnown))
      : series(extent).flatMap((s) => startingPoses(cloud, form, s, extentOfSeries));
  const looked = poses
    .map((pose) => ({ pose, cost: costOf(points, lookPoints, cloud, pose, lookCap) }))
    .sort((a, b) => a.cost - b.cost);
  const perDirection = new Map<string, number>();
  const rough: Fit[] = [];
  for (const { pose } of looked) {
    const key = `${pose.scale} ${pose.rotation.slice(6)}`;
    const before = perDirection.get(key) ?? 0;
    if (before >= roughPerDirection) continue;
    perDirection.set(key, before + 1);
    const refined = refine(points, cloud, pose, {
      count: 260,
      steps: 12,
      scaled: scales.length === 0,
      reach: 45,
    });
    rough.push({ pose: refined, cost: costOf(points, 400, cloud, refined, lookCap) });
    if (rough.length === roughPoses) break;
  }
  if (rough.length === 0) return undefined;
  rough.sort((a, b) => a.cost - b.cost);
  const chosen = distinct(rough).slice(0, finePoses);
  const near = new ScanCloud(mesh, finePoints, roundTheHead(mesh, form, chosen));
  const fine = (pose: ScanPose, steps: number): Fit => {
    const refined = refine(points, near, pose, { ...fineRefining, steps });
    return { pose: refined, cost: costOf(points, 1500, near, refined, fineCap) };
  };
  const fits = chosen.map(({ pose }) => fine(pose, 15)).sort((a, b) => a.cost - b.cost);
  const one = fine(fits[0].pose, fineRefining.steps);
  const other = fine(faceToTheBack(one.pose, form), fineRefining.steps);
  const [best, reversed] = one.cost <= other.cost ? [one, other] : [other, one];
  return { best, reversed, cloud: near };
}

function greatestExtentOf({ samples: { count, positions } }: ScanCloud): number {
  let extent = 0;
  for (let axis = 0; axis < 3; axis++) {
    let [least, most] = [Infinity, -Infinity];
    for (let i = 0; i < count; i++) {
      least = Math.min(least, positions[3 * i + axis]);
      most = Math.max(most, positions[3 * i + axis]);
    }
    extent = Math.max(extent, most - least);
  }
  return extent;
}

function series(extent: number): number[] {
  const scales: number[] = [];
  for (let size = leastExtent; size < greatestExtent; size *= seriesStep) scales.push(size / extent);
  return scales;
}

/** Directions spread evenly over the sphere (Fibonacci's lattice), and those of the axes. */
function directions(): Vec3[] {
  const all: Vec3[] = [
    [0, 0, 1],
    [0, 1, 0],
    [1, 0, 0],
    [0, 0, -1],
    [0, -1, 0],
    [-1, 0, 0],
  ];
  for (let i = 0; i < upDirections; i++) {
    const z = 1 - (2 * i + 1) / upDirections;
    const angle = i * Math.PI * (3 - Math.sqrt(5));
    const r = Math.sqrt(1 - z * z);
    all.push([r * Math.cos(angle), r * Math.sin(angle), z]);
  }
  return all;
}

/** Poses at one scale in which what lies below the crown is as long and broad as a head down to its girth. */
function startingPoses(
  { samples: { count, positions } }: ScanCloud,
  form: HeadForm,
  scale: number,
  [least, most]: readonly [number, number],
): ScanPose[] {
  const { length, breadth, crownHeight } = form.measurements;
  const depth = girthDepth(form.measurements) / scale;
  const poses: ScanPose[] = [];
  const heights = new Float64Array(count);
  for (const up of directions()) {
    const across = normalize(anyPerpendicular(up));
    const along = cross(up, across);
    let top = -Infinity;
    for (let i = 0; i < count; i++) {
      heights[i] = up[0] * positions[3 * i] + up[1] * positions[3 * i + 1] + up[2] * positions[3 * i + 2];
      if (heights[i] > top) top = heights[i];
    }
    const box = [Infinity, -Infinity, Infinity, -Infinity];
    for (let i = 0; i < count; i++) {
      if (heights[i] < top - depth) continue;
      const [x, y, z] = [positions[3 * i], positions[3 * i + 1], positions[3 * i + 2]];
      const u = across[0] * x + across[1] * y + across[2] * z;
      const v = along[0] * x + along[1] * y + along[2] * z;
      box[0] = Math.min(box[0], u);
      box[1] = Math.max(box[1], u);
      box[2] = Math.min(box[2], v);
      box[3] = Math.max(box[3], v);
    }
    // For an ellipse the diagonal of the box is the same however it is turned.
    const share = (scale * Math.hypot(box[1] - box[0], box[3] - box[2])) / Math.hypot(length, breadth);
    if (!(share >= least && share <= most)) continue;
    const [u, v] = [(box[0] + box[1]) / 2, (box[2] + box[3]) / 2];
    for (let k = 0; k < turns; k++) {
      const angle = (2 * Math.PI * k) / turns;
      const [c, s] = [Math.cos(angle), Math.sin(angle)];
      const right = [0, 1, 2].map((axis) => c * across[axis] + s * along[axis]);
      const forward = [0, 1, 2].map((axis) => c * along[axis] - s * across[axis]);
      poses.push({
        rotation: [...right, ...forward, ...up],
        scale,
        shift: [
          -scale * (c * u + s * v),
          form.center[1] - scale * (c * v - s * u),
          crownHeight - scale * top,
        ],
      });
    }
  }
  return poses;
}

/** Poses that are not nearly the same, the best of each kind. */
function distinct(fits: readonly Fit[]): Fit[] {
  const kept: Fit[] = [];
  for (const fit of fits) {
    const same = kept.some(
      ({ pose }) =>
        angleBetween(pose.rotation, fit.pose.rotation) < 0.2 &&
        Math.abs(pose.scale / fit.pose.scale - 1) < 0.15,
    );
    if (!same) kept.push(fit);
  }
  return kept;
}

/** The pose turned half round the upright axis through the middle of the cranium. */
export function faceToTheBack({ rotation, scale, shift }: ScanPose, form: HeadForm): ScanPose {
  return {
    rotation: times([-1, 0, 0, 0, -1, 0, 0, 0, 1], rotation),
    scale,
    shift: [-shift[0], 2 * form.center[1] - shift[1], shift[2]],
  };
}

/** Whether a triangle lies where one of the poses has the head: to a hand's breadth round it. */
export function roundTheHead(
  { positions: p, triangles }: TriangleMesh,
  form: HeadForm,
  fits: readonly { readonly pose: ScanPose }[],
): (triangle: number) => boolean {
  const reach = 0.75 * form.measurements.length + 40;
  const centres = fits.map(({ pose: { rotation: r, scale, shift } }) => {
    const [a, b, c] = [-shift[0], form.center[1] - shift[1], 15 - shift[2]].map((value) => value / scale);
    return {
      x: r[0] * a + r[3] * b + r[6] * c,
      y: r[1] * a + r[4] * b + r[7] * c,
      z: r[2] * a + r[5] * b + r[8] * c,
      squared: (reach / scale) ** 2,
    };
  });
  return (triangle) => {
    const at = 3 * triangles[3 * triangle];
    return centres.some(
      ({ x, y, z, squared }) => (p[at] - x) ** 2 + (p[at + 1] - y) ** 2 + (p[at + 2] - z) ** 2 <= squared,
    );
  };
}
