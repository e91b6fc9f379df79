import type { SignedDistance } from "../../geometry/signedDistance";
import { scale, subtract, type Vec3 } from "../../geometry/vector";
import { Feeler } from "./feeler";
import { maximise, type Row } from "./linearProgramme";
import { Pose } from "./pose";

/** Where a piece comes to rest. */
export interface Seat {
  /** It comes to rest near where it is designed; else `pose` is the last one that was looked at. */
  readonly rests: boolean;
  readonly pose: Pose;
  /** How far the surface that faces the head moves, at most, mm. */
  readonly travel: number;
}

/** Farther from where it is designed it is not taken to rest: mm, degrees. Common practice, no source. */
export const mostShift = 15;
export const mostTurn = 10;

/** Of the surface in each cell of a grid of this size only the nearest point to the head is watched, mm. */
const cell = 6;
/** In one step nothing moves by more than about this, mm. */
const firstStep = 3;
const mostSteps = 30;
/** Shorter motions are rest, mm. */
const rest = 0.01;
/** A gap is kept when it is no less than zero by this, mm. */
const enough = 1e-3;
/** Price of 1 mm of depth in the head, in mm of descent. */
export const depthPrice = 10;
const mostRounds = 60;

/**
 * Where a piece comes to rest: hollowed to the head with its ease, it is designed to hover, and comes down.
 *
 * Its weight's potential energy falls with the height of its centre. In small steps the piece is moved so that this
 * height falls most, while no point of it enters the head: a linear programme over shift and turn with the gaps to
 * the head linearised (sequential linear programming: Griffith & Stewart 1961, from memory), then the gaps are
 * measured anew. Friction takes its part: shifts sideways at the middle of the surface that faces the head cost friction
 * times their length, turns half of that, since near the contact about which it turns nothing slides. What is in the
 * head at first is pushed out.
 *
 * @param points x, y, z of the surface that faces the head, mm, and `gaps` of each to it, mm
 */
export function seat(
  points: Float32Array,
  gaps: Float32Array,
  head: SignedDistance,
  centre: Vec3,
  friction: number,
): Seat {
  const probes = nearestInCells(points, gaps);
  const count = probes.length / 3;
  if (count === 0) return { rests: false, pose: Pose.still(centre), travel: 0 };
  const middle = middleOf(probes);
  const unit = Math.max(10, meanReach(probes, middle));
  // Where the head is touched: there friction acts, and about there the piece turns.
  let pose = Pose.still(middle);
  const feeler = new Feeler(head);
  const guesses = new Int32Array(count).fill(-1);
  const gap = new Float64Array(count);
  const arms = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  let step = firstStep;
  let before = new Float64Array(6);
  let rests = false;
  for (let k = 0; k < mostSteps; k++) {
    for (let i = 0; i < count; i++) {
      const [x, y, z] = pose.moved(probes[3 * i], probes[3 * i + 1], probes[3 * i + 2]);
      const isFelt = feeler.feel(x, y, z, watched, guesses[i]);
      gap[i] = isFelt ? feeler.gap : Infinity;
      if (!isFelt) continue;
      guesses[i] = feeler.triangle;
      arms[3 * i] = (x - pose.to[0]) / unit;
      arms[3 * i + 1] = (y - pose.to[1]) / unit;
      arms[3 * i + 2] = (z - pose.to[2]) / unit;
      normals[3 * i] = feeler.nx;
      normals[3 * i + 1] = feeler.ny;
      normals[3 * i + 2] = feeler.nz;
    }
    const toCentre = subtract(pose.moved(...centre), pose.to);
    const motion = descent(gap, arms, normals, scale(toCentre, 1 / unit), step, friction)?.slice(0, 6);
    if (!motion) break;
    rests = Math.hypot(...motion) < rest || step < rest;
    if (rests) break;
    // To and fro: the step is longer than the place is wide.
    if (motion.reduce((sum, value, axis) => sum + value * before[axis], 0) < 0) step /= 2;
    before = motion;
    pose = pose.followedBy(
      [motion[0], motion[1], motion[2]],
      [motion[3] / unit, motion[4] / unit, motion[5] / unit],
    );
    if (Math.hypot(...pose.shift) > mostShift || Math.hypot(...pose.turn) > mostTurn) break;
  }
  let travel = 0;
  for (let i = 0; i < count; i++) {
    const [x, y, z] = [probes[3 * i], probes[3 * i + 1], probes[3 * i + 2]];
    const [mx, my, mz] = pose.moved(x, y, z);
    travel = Math.max(travel, Math.hypot(mx - x, my - y, mz - z));
  }
  return { rests, pose, travel };
}

/** Points farther than this from the head are not felt, mm. */
const watched = 40;

/**
 * The small motion (shift in mm, turn in mm at the unit's distance, depth left in the head in mm) in which the centre
 * of mass comes down most. Rows are added where the motion found goes into the head.
 */
function descent(
  gap: Float64Array,
  arms: Float64Array,
  normals: Float64Array,
  toCentre: Vec3,
  step: number,
  friction: number,
): Float64Array | undefined {
  const turning = friction / 2;
  const sought = {
    // Height of the centre: upwards shift and what the turn adds at the centre's arm.
    gain: [0, 0, -1, -toCentre[1], toCentre[0], 0, -depthPrice],
    toll: [friction, friction, 0, turning, turning, turning, 0],
    least: [-step, -step, -step, -step, -step, -step, 0],
    most: [step, step, step, step, step, step, Infinity],
  };
  const rows: Row[] = [];
  for (let round = 0; ; round++) {
    const found = maximise(sought, rows);
    if (!found || round >= mostRounds) return found?.x;
    const [vx, vy, vz, wx, wy, wz, depth] = found.x;
    const worst = new Int32Array(8).fill(-1);
    const lack = new Float64Array(8).fill(-enough);
    for (let i = 0; i < gap.length; i++) {
      if (gap[i] === Infinity) continue;
      const [x, y, z] = [arms[3 * i], arms[3 * i + 1], arms[3 * i + 2]];
      const left =
        gap[i] +
        depth +
        (vx + wy * z - wz * y) * normals[3 * i] +
        (vy + wz * x - wx * z) * normals[3 * i + 1] +
        (vz + wx * y - wy * x) * normals[3 * i + 2];
      const octant = (x > 0 ? 1 : 0) + (y > 0 ? 2 : 0) + (z > 0 ? 4 : 0);
      if (left < lack[octant]) {
        lack[octant] = left;
        worst[octant] = i;
      }
    }
    let added = 0;
    for (const i of worst) {
      if (i < 0) continue;
      const [x, y, z] = [arms[3 * i], arms[3 * i + 1], arms[3 * i + 2]];
      const [nx, ny, nz] = [normals[3 * i], normals[3 * i + 1], normals[3 * i + 2]];
      rows.push({
        terms: [nx, ny, nz, y * nz - z * ny, z * nx - x * nz, x * ny - y * nx, 1],
        least: -gap[i],
      });
      added++;
    }
    if (added === 0) return found.x;
  }
}

/** Of the points in each cell of a grid the one with the least gap: x, y, z in turn. */
function nearestInCells(points: Float32Array, gaps: Float32Array): Float32Array {
  const nearest = new Map<number, number>();
  for (let i = 0; i < gaps.length; i++) {
    const key = cellKey(points, i, cell);
    const known = nearest.get(key);
    if (known === undefined || gaps[i] < gaps[known]) nearest.set(key, i);
  }
  const answer = new Float32Array(3 * nearest.size);
  let next = 0;
  for (const i of nearest.values()) {
    for (let axis = 0; axis < 3; axis++) answer[next++] = points[3 * i + axis];
  }
  return answer;
}

/** Number of the cell of a grid that a point lies in; cells far apart (2 m at 1 mm) may share one. */
export function cellKey(points: ArrayLike<number>, i: number, size: number): number {
  const at = (axis: number) => (Math.floor(points[3 * i + axis] / size) + 1024) & 2047;
  return (at(0) * 2048 + at(1)) * 2048 + at(2);
}

function middleOf(points: Float32Array): Vec3 {
  const sum: [number, number, number] = [0, 0, 0];
  for (let k = 0; k < points.length; k++) sum[k % 3] += points[k];
  return scale(sum, 3 / points.length);
}

/** Root mean square distance from a point. */
function meanReach(points: Float32Array, centre: Vec3): number {
  let squares = 0;
  for (let k = 0; k < points.length; k++) squares += (points[k] - centre[k % 3]) ** 2;
  return Math.sqrt((3 * squares) / points.length);
}
