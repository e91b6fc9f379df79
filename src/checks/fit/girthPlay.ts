import type { Vec3 } from "../../geometry/vector";
import { hatSizeStep } from "../../head/hatSize";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";
import { girthCells, leastClosed, levelDegrees, lowestElevation, nearShare } from "./girthCells";
import type { InnerSurface } from "./innerSurface";
import { weightedPercentiles } from "./percentiles";

/** How much girth a piece has to spare where it closes round the head most tightly. */
export interface GirthPlay {
  /** mm of girth; negative where it is tight. */
  readonly girth: number;
  /** The same in steps of the metric hat size, 10 mm of girth each. */
  readonly hatSizes: number;
  /** Elevation at which it was taken, degrees. */
  readonly elevation: number;
  /** Share of the way round where the piece has an inner surface there, 0 to 1. */
  readonly closed: number;
  /** The part that has most of it, and its nearest place, mm. */
  readonly part: string;
  readonly at: Vec3;
}

/** Degrees of azimuth in one cell. */
const sectorDegrees = 5;

/**
 * The play of the girth: 2π times the mean gap round the head between the piece and the head with its hair, at the
 * level where that is least (Steiner's formula: a convex outline grown by d has 2π·d more girth). Undefined where the
 * piece nowhere goes three quarters of the way round.
 */
export function girthPlay(piece: WornPiece, head: WornHead, inner: InnerSurface): GirthPlay | undefined {
  const { positions, triangles } = piece.samples;
  const { sectors, levels, members } = girthCells(piece, head, inner, sectorDegrees);
  const gaps = new Float64Array(sectors * levels).fill(Infinity);
  const nearest = new Int32Array(sectors * levels).fill(-1);
  members.forEach((list, cell) => {
    if (list.length === 0) return;
    [gaps[cell]] = weightedPercentiles(
      list.map((i) => inner.haired[i]),
      list.map((i) => inner.areas[i]),
      [nearShare],
    );
    nearest[cell] = inner.samples[list.reduce((a, b) => (inner.haired[b] < inner.haired[a] ? b : a))];
  });
  let best: GirthPlay | undefined;
  for (let level = 0; level < levels; level++) {
    // Two levels together: a thin ring that wanders a little is still one ring.
    const found: { gap: number; sample: number }[] = [];
    for (let sector = 0; sector < sectors; sector++) {
      const here = level * sectors + sector;
      const above = here + sectors;
      const cell = level + 1 < levels && gaps[above] < gaps[here] ? above : here;
      if (nearest[cell] >= 0) found.push({ gap: gaps[cell], sample: nearest[cell] });
    }
    if (found.length < leastClosed * sectors) continue;
    const girth = 2 * Math.PI * (found.reduce((sum, { gap }) => sum + gap, 0) / found.length);
    if (best && girth >= best.girth) continue;
    const closest = found.reduce((a, b) => (b.gap < a.gap ? b : a)).sample;
    const counts = new Map<number, number>();
    for (const own of found) {
      const part = piece.partOf(triangles[own.sample]);
      counts.set(part, (counts.get(part) ?? 0) + 1);
    }
    const [part] = [...counts].reduce((a, b) => (b[1] > a[1] ? b : a));
    best = {
      girth,
      hatSizes: girth / hatSizeStep("metric"),
      elevation: lowestElevation + levelDegrees * (level + 1),
      closed: found.length / sectors,
      part: piece.parts[part]?.name ?? "",
      at: [positions[3 * closest], positions[3 * closest + 1], positions[3 * closest + 2]],
    };
  }
  return best;
}
