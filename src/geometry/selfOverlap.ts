import { type PreparedTube, prepareTube } from "./rings";
import type { TubeShape } from "./tubeShape";

/** A stretch of a tube that overlaps the tube itself. */
export interface SelfOverlap {
  readonly fromShare: number;
  readonly toShare: number;
  /** `bend`: the path bends tighter than the tube is thick. `near`: the path comes back to itself. */
  readonly reason: "bend" | "near";
}

/** Reach times curvature from which neighbouring sections are taken to meet. */
const bendLimit = 0.97;
/** Room added to the sum of the radii, for what lies between two samples. */
const nearMargin = 1.02;
/**
 * Chord over arc below which two places of a path are no neighbours. An arc that bends no tighter than the tube is thick
 * and whose ends are nearer than two radii has a ratio of at least 2/π = 0.64 (a half circle's).
 */
const neighbourRatio = 0.6;

/** Where a tube overlaps itself, by share of its length; an empty list for an ordinary tube. */
export function findSelfOverlap(shape: TubeShape): SelfOverlap[] {
  return preparedSelfOverlap(prepareTube(shape, 0.1));
}

/** `findSelfOverlap` for a tube that is measured already. */
export function preparedSelfOverlap(tube: PreparedTube, pairs = nearPairs(tube)): SelfOverlap[] {
  return [...tightBends(tube), ...nearStretches(pairs)].sort((a, b) => a.fromShare - b.fromShare);
}

function tightBends(tube: PreparedTube): SelfOverlap[] {
  const { curve, profile, section } = tube;
  const stations = curve.stations();
  const { curvatures: c } = curve.sample(stations);
  const reach = section.round ? 1 : section.reach;
  const last = stations.length - 1;
  const found: { fromShare: number; toShare: number; reason: "bend" }[] = [];
  for (let i = 0; i <= last; i++) {
    const curvature = Math.hypot(c[i * 3], c[i * 3 + 1], c[i * 3 + 2]);
    if (curvature * reach * profile.radiusAt(stations[i] * curve.length) <= bendLimit) continue;
    const fromShare = stations[Math.max(0, i - 1)];
    const toShare = stations[Math.min(last, i + 1)];
    const before = found[found.length - 1];
    if (before && before.toShare >= fromShare) before.toShare = toShare;
    else found.push({ fromShare, toShare, reason: "bend" });
  }
  return found;
}

/** Evenly spaced places of a path and the pairs of them that are too near. */
export interface NearPairs {
  readonly count: number;
  /** For each place the first later one that overlaps it without being its neighbour; `count` if none. */
  readonly firstAfter: Int32Array;
  /** Whether a place overlaps any other. */
  readonly near: Uint8Array;
  /** All pairs: a place, then the first and the last of a row of later ones that it overlaps, and so on. */
  readonly rows: readonly number[];
}

/** Compares every two places of a path that could be too near; jumps over those that cannot. */
export function nearPairs(tube: PreparedTube): NearPairs {
  const { curve, profile, section } = tube;
  const length = curve.length;
  const coarse = Array.from({ length: 33 }, (_, i) => profile.radiusAt((length * i) / 32));
  const typical = Math.max(Math.min(...coarse), profile.greatest / 6) * section.reach;
  const count = Math.min(6000, Math.max(32, Math.ceil(length / (0.4 * typical)) + 1));
  const step = length / (count - 1);
  const { points: p } = curve.sample(Float64Array.from({ length: count }, (_, i) => i / (count - 1)));
  const reach = Float64Array.from(
    { length: count },
    (_, i) => profile.radiusAt(i * step) * section.reach * nearMargin,
  );
  const greatest = reach.reduce((a, b) => Math.max(a, b));
  const firstAfter = new Int32Array(count).fill(count);
  const near = new Uint8Array(count);
  const rows: number[] = [];
  for (let i = 0; i < count; i++) {
    for (let j = i + 1; j < count; ) {
      const d = Math.sqrt(
        (p[i * 3] - p[j * 3]) ** 2 + (p[i * 3 + 1] - p[j * 3 + 1]) ** 2 + (p[i * 3 + 2] - p[j * 3 + 2]) ** 2,
      );
      const along = (j - i) * step;
      const arc = curve.closed ? Math.min(along, length - along) : along;
      // The two ends of a closed path are one place, whatever rounding says.
      if (arc > step / 2 && d < reach[i] + reach[j] && d < neighbourRatio * arc) {
        near[i] = 1;
        near[j] = 1;
        if (firstAfter[i] === count) firstAfter[i] = j;
        const end = rows.length - 1;
        if (end > 0 && rows[end - 2] === i && rows[end] === j - 1) rows[end] = j;
        else rows.push(i, j, j);
        j++;
        continue;
      }
      // The path comes no nearer than it is long, so both conditions need at least this many steps more.
      const untilNear = d - reach[i] - greatest;
      const untilFar = (d - neighbourRatio * arc) / (1 + neighbourRatio);
      j += Math.max(1, Math.floor(Math.max(untilNear, untilFar) / step));
    }
  }
  return { count, firstAfter, near, rows };
}

function nearStretches({ count, near }: NearPairs): SelfOverlap[] {
  const found: SelfOverlap[] = [];
  for (let i = 0; i < count; i++) {
    if (near[i] === 0) continue;
    const from = i;
    while (i + 1 < count && near[i + 1] === 1) i++;
    found.push({
      fromShare: Math.max(0, from - 0.5) / (count - 1),
      toShare: Math.min(count - 1, i + 0.5) / (count - 1),
      reason: "near",
    });
  }
  return found;
}
