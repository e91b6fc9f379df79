import { pickedPoints } from "../../geometry/pickedPoints";
import { degrees } from "../../geometry/vector";
import { emptySample } from "../../head/radialSurface";
import { hairShare } from "../../head/regions";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";
import { RimCells } from "./rimCells";

/** Some of the points of a piece that the head feels, as they sit on the head that the piece was made for. */
export interface FeltPoints {
  readonly count: number;
  /** x, y, z in turn, mm, head frame. */
  readonly positions: Float64Array;
  /** Cosine between the head's normal and the ray from its centre: a gap along the ray times this is the gap. */
  readonly cosines: Float64Array;
}

/** At most so many points are asked how deep they lie in the head where the piece rests. */
const mostAsked = 700;
/** At most so many points are watched while it comes to rest; the cells of a grid in which they are chosen grow until they are so few, mm. */
const mostPoints = 120;
const firstCell = 4;
const cellGrowth = 1.2;
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
  const near = nearSamples(piece, head);
  const cells = new RimCells(near.positions, near.gaps);
  let asked: Int32Array | undefined;
  let among = cells.all();
  for (let cell = firstCell; ; cell *= cellGrowth) {
    among = cells.rims(among, cell);
    if (!asked && among.length <= mostAsked) asked = among;
    if (among.length <= mostPoints) break;
  }
  const taken = (chosen: Int32Array) =>
    pointsAt(
      piece,
      head,
      Array.from(chosen, (k) => near.samples[k]),
    );
  return { felt: taken(among), asked: taken(asked ?? among) };
}

/** Samples near the head. */
interface NearSamples {
  readonly samples: Uint32Array;
  /** x, y, z of each in turn, mm, head frame. */
  readonly positions: Float32Array;
  /** How far each is off the head's hair along the ray from its centre, mm. */
  readonly gaps: Float64Array;
}

function nearSamples(piece: WornPiece, head: WornHead): NearSamples {
  const { positions, count } = piece.samples;
  const { surface, center } = head.form;
  const { hair, ease } = head.room;
  const [cx, cy, cz] = center;
  const most = reach + ease + hair;
  const samples = new Uint32Array(count);
  const gaps = new Float64Array(count);
  let found = 0;
  for (let i = 0; i < count; i++) {
    const x = positions[3 * i] - cx;
    const y = positions[3 * i + 1] - cy;
    const z = positions[3 * i + 2] - cz;
    const level = Math.sqrt(x * x + y * y);
    const azimuth = Math.atan2(x, y);
    const elevation = Math.atan2(z, level);
    const gap = Math.sqrt(level * level + z * z) - surface.uncutRadius(azimuth, elevation);
    if (gap > most) continue;
    samples[found] = i;
    gaps[found++] = hair > 0 ? gap - hair * hairShare(degrees(azimuth), degrees(elevation)) : gap;
  }
  const near = samples.subarray(0, found);
  return { samples: near, positions: pickedPoints(positions, near), gaps: gaps.subarray(0, found) };
}

/** Samples of a piece with what the head is like below them. */
export function pointsAt(piece: WornPiece, head: WornHead, samples: readonly number[]): FeltPoints {
  const count = samples.length;
  const positions = new Float64Array(3 * count);
  const cosines = new Float64Array(count);
  const { surface, center } = head.form;
  const foot = emptySample();
  samples.forEach((sample, i) => {
    const x = piece.samples.positions[3 * sample];
    const y = piece.samples.positions[3 * sample + 1];
    const z = piece.samples.positions[3 * sample + 2];
    positions.set([x, y, z], 3 * i);
    const level = Math.hypot(x - center[0], y - center[1]);
    surface.evaluateUncut(Math.atan2(x - center[0], y - center[1]), Math.atan2(z - center[2], level), foot);
    const away = Math.hypot(level, z - center[2]);
    const along = foot.nx * (x - center[0]) + foot.ny * (y - center[1]) + foot.nz * (z - center[2]);
    cosines[i] = Math.max(leastCosine, along / away);
  });
  return { count, positions, cosines };
}
