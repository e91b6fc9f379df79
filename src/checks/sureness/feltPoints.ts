import { degrees } from "../../geometry/vector";
import { emptySample } from "../../head/radialSurface";
import { hairShare } from "../../head/regions";
import { cellKey } from "../balance/seat";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";

/** Some of the points of a piece that the head feels, as they sit on the head that the piece was made for. */
export interface FeltPoints {
  readonly count: number;
  /** x, y, z in turn, mm, head frame. */
  readonly positions: Float64Array;
  /** Outward unit normals of the bare head below each. */
  readonly normals: Float64Array;
  /** Cosine between that normal and the ray from the head's centre: a gap along the ray times this is the gap. */
  readonly cosines: Float64Array;
}

/** At most so many points are asked how deep they lie in the head where the piece rests. */
const mostAsked = 700;
/** At most so many points are watched while it comes to rest; the cells of a grid in which they are chosen grow until they are so few, mm. */
const mostPoints = 200;
const firstCell = 4;
const cellGrowth = 1.2;
/** What lies farther off the head with its hair than the nearest in its cell by more than this is not its rim, mm. */
const rimGap = 1;
/** What is farther than this from the grown head is not felt, mm. */
const reach = 10;
/** A surface is met at no flatter an angle: in hollows the ray says little. */
const leastCosine = 0.5;

/**
 * Of the surface near the head the point of each cell that is nearest to it, and the lowest and the highest of those
 * about as near: the rims are met first when the piece lies higher or lower. Few for the way to rest, more for the
 * depth there.
 */
export function feltPoints(
  piece: WornPiece,
  head: WornHead,
): { readonly felt: FeltPoints; readonly asked: FeltPoints } {
  const { positions } = piece.samples;
  const { samples, gaps } = nearSamples(piece, head);
  const heightOf = (k: number) => positions[3 * samples[k] + 2];
  let asked: readonly number[] = [];
  let among = samples.map((_, k) => k);
  for (let cell = firstCell; ; cell *= cellGrowth) {
    const cells = new Map<number, number[]>();
    for (const k of among) {
      const key = cellKey(positions, samples[k], cell);
      const known = cells.get(key);
      if (known) known.push(k);
      else cells.set(key, [k]);
    }
    const chosen = new Set<number>();
    for (const members of cells.values()) {
      const nearest = members.reduce((a, b) => (gaps[b] < gaps[a] ? b : a));
      const near = members.filter((k) => gaps[k] < gaps[nearest] + rimGap);
      chosen.add(nearest);
      chosen.add(near.reduce((a, b) => (heightOf(b) < heightOf(a) ? b : a)));
      chosen.add(near.reduce((a, b) => (heightOf(b) > heightOf(a) ? b : a)));
    }
    among = [...chosen];
    if (asked.length === 0 && among.length <= mostAsked) asked = among;
    if (among.length <= mostPoints) break;
  }
  const taken = (chosen: readonly number[]) =>
    pointsAt(
      piece,
      head,
      chosen.map((k) => samples[k]),
    );
  return { felt: taken(among), asked: taken(asked) };
}

/** Samples near the head, and how far off its hair they are along the ray from its centre, mm. */
function nearSamples(piece: WornPiece, head: WornHead): { samples: number[]; gaps: number[] } {
  const { positions, count } = piece.samples;
  const { surface, center } = head.form;
  const { hair, ease } = head.room;
  const samples: number[] = [];
  const gaps: number[] = [];
  for (let i = 0; i < count; i++) {
    const x = positions[3 * i] - center[0];
    const y = positions[3 * i + 1] - center[1];
    const z = positions[3 * i + 2] - center[2];
    const level = Math.sqrt(x * x + y * y);
    const azimuth = Math.atan2(x, y);
    const elevation = Math.atan2(z, level);
    const gap = Math.sqrt(level * level + z * z) - surface.uncutRadius(azimuth, elevation);
    if (gap > reach + ease + hair) continue;
    samples.push(i);
    gaps.push(hair > 0 ? gap - hair * hairShare(degrees(azimuth), degrees(elevation)) : gap);
  }
  return { samples, gaps };
}

/** Samples of a piece with what the head is like below them. */
export function pointsAt(piece: WornPiece, head: WornHead, samples: readonly number[]): FeltPoints {
  const count = samples.length;
  const positions = new Float64Array(3 * count);
  const normals = new Float64Array(3 * count);
  const cosines = new Float64Array(count);
  const { surface, center } = head.form;
  const foot = emptySample();
  samples.forEach((sample, i) => {
    const own = piece.samples.positions.subarray(3 * sample, 3 * sample + 3);
    positions.set(own, 3 * i);
    const [x, y, z] = own;
    const level = Math.hypot(x - center[0], y - center[1]);
    surface.evaluateUncut(Math.atan2(x - center[0], y - center[1]), Math.atan2(z - center[2], level), foot);
    normals.set([foot.nx, foot.ny, foot.nz], 3 * i);
    const away = Math.hypot(level, z - center[2]);
    const along = foot.nx * (x - center[0]) + foot.ny * (y - center[1]) + foot.nz * (z - center[2]);
    cosines[i] = Math.max(leastCosine, along / away);
  });
  return { count, positions, normals, cosines };
}
