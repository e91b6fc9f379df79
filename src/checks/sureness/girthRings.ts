import { girthCells, leastClosed, nearShare } from "../fit/girthCells";
import type { InnerSurface } from "../fit/innerSurface";
import { weightedPercentiles } from "../fit/percentiles";
import type { WornHead } from "../wornHead";
import type { WornPiece } from "../wornPiece";

/** Degrees of azimuth in one cell: twice those of `girthPlay`. */
const sectorDegrees = 10;

/**
 * The levels at which a piece goes round the head, each as the samples that are felt there, two a sector: what
 * `girthPlay` takes its mean gaps of, on each head the nearer of the two. None where the piece nowhere goes three quarters of the way round.
 */
export function girthRings(piece: WornPiece, head: WornHead, inner: InnerSurface): number[][] {
  const { sectors, levels, members } = girthCells(piece, head, inner, sectorDegrees);
  const felt = members.map((list) => {
    if (list.length === 0) return -1;
    const values = list.map((i) => inner.haired[i]);
    const [gap] = weightedPercentiles(
      values,
      list.map((i) => inner.areas[i]),
      [nearShare],
    );
    const off = (i: number) => Math.abs(inner.haired[i] - gap);
    return inner.samples[list.reduce((a, b) => (off(b) < off(a) ? b : a))];
  });
  const rings: number[][] = [];
  for (let level = 0; level < levels; level++) {
    const ring: number[] = [];
    for (let sector = 0; sector < sectors; sector++) {
      const here = level * sectors + sector;
      const above = here + sectors;
      const [low, high] = [felt[here], level + 1 < levels ? felt[above] : -1];
      if (low >= 0 || high >= 0) ring.push(low >= 0 ? low : high, high >= 0 ? high : low);
    }
    if (ring.length >= 2 * leastClosed * sectors) rings.push(ring);
  }
  return rings;
}
