import { CapsuleGrid, segmentShare, segmentStride } from "./capsuleGrid";
import { Curve } from "./curve";
import { resampled } from "./pathShapes";
import { radiusProfile } from "./radius";
import { refusal } from "./refusal";
import { RestingChain } from "./restingChain";
import { freeHeight, type RestingSurface, type RestingTube } from "./restingTube";
import type { PathData, RadiusData } from "./tubeShape";

export type { RestingSurface, RestingTube } from "./restingTube";

export interface Settlement {
  /** One path per tube, in the order given. Fixed tubes keep theirs; others pass through many points. */
  readonly paths: readonly PathData[];
  /** Greatest depth, mm, by which a laid tube lies in the surface or in a tube below it deeper than its sink. */
  readonly overlap: number;
  /** The same for each tube. */
  readonly overlaps: readonly number[];
}

/**
 * Lays tubes on a surface and over one another, as ropes are laid down one by one: each falls on the surface, is pushed
 * out of it and out of the tubes that lie there before it (those marked as fixed, then those listed earlier), slides
 * aside where it runs along another, climbs over where it crosses, and bends no tighter than its thickness allows.
 * Position-based dynamics (Müller, Heidelberger, Hennix, Ratcliff 2007, J. Vis. Commun. Image R. 18(2)): positions are
 * moved until the constraints hold, without velocities, in an order that depends on the input only. Throws a
 * MessageError for a sink outside 0 to 0.9 and for paths and radii that make no tube.
 */
export function settle(tubes: readonly RestingTube[], surface: RestingSurface): Settlement {
  const prepared = tubes.map((tube) => {
    if (!(tube.sink >= 0 && tube.sink <= 0.9)) {
      throw refusal(
        "sink-out-of-range",
        `the sink of a resting tube is ${tube.sink}`,
        "give a share from 0 to 0.9",
      );
    }
    return { tube, curve: new Curve(tube.path), radius: radiusProfile(tube.radius) };
  });
  const thickest = tubes.reduce((most, tube) => Math.max(most, ...tube.radius.radii), 0);
  const grid = new CapsuleGrid(Math.max(4, 2 * thickest));
  let top = 0;
  for (const { tube, curve, radius } of prepared) {
    if (!tube.fixed) continue;
    const pieces = Math.ceil(curve.length / (0.3 * meanRadius(tube.radius)));
    addToGrid(grid, curve, radius.at, pieces, (share) => {
      const height = surface(curve.pointAt(share)).distance;
      const free = height > freeHeight * radius.at(share);
      if (!free) top = Math.max(top, height + radius.at(share));
      return free;
    });
  }
  const overlaps: number[] = [];
  const paths = prepared.map(({ tube, curve, radius }) => {
    if (tube.fixed) {
      overlaps.push(0);
      return tube.path;
    }
    const spacing = 0.6 * meanRadius(tube.radius);
    const count = Math.min(400, Math.max(12, Math.ceil(curve.length / spacing)));
    const chain = new RestingChain(tube, curve, radius.at, count, grid, surface, top);
    chain.settle();
    // Between the points of the chain its spline may still touch: a finer one is cleared.
    const first = new Curve(chain.path());
    const finer = Math.min(800, Math.ceil(first.length / (0.5 * spacing)));
    const fine = new RestingChain(tube, first, radius.at, finer, grid, surface);
    fine.finish();
    const path = resampled(fine.path(), Math.ceil(finer / 2) + (curve.closed ? 0 : 1));
    const laid = new Curve(path);
    overlaps.push(overlapOf(laid, radius.at, tube.sink, grid, surface, finer * 2));
    addToGrid(grid, laid, radius.at, finer, (share) => chain.standsFreeAt(share));
    top = Math.max(top, chain.top());
    return path;
  });
  return { paths, overlap: overlaps.reduce((a, b) => Math.max(a, b), 0), overlaps };
}

function meanRadius({ radii }: RadiusData): number {
  return radii.reduce((a, b) => a + b, 0) / radii.length;
}

function addToGrid(
  grid: CapsuleGrid,
  curve: Curve,
  radiusAt: (share: number) => number,
  pieces: number,
  free: (share: number) => boolean,
): void {
  const count = curve.closed ? Math.max(3, pieces) : Math.max(2, pieces) + 1;
  const shares = Float64Array.from({ length: count }, (_, i) => i / (curve.closed ? count : count - 1));
  grid.addLine(curve.sample(shares).points, shares.map(radiusAt), curve.closed, (i) => free(shares[i]));
}

function overlapOf(
  curve: Curve,
  radiusAt: (share: number) => number,
  sink: number,
  grid: CapsuleGrid,
  surface: RestingSurface,
  pieces: number,
): number {
  let deepest = 0;
  const near: number[] = [];
  for (let i = 0; i <= pieces; i++) {
    const share = i / pieces;
    const p = curve.pointAt(share);
    const r = radiusAt(share);
    deepest = Math.max(deepest, r * (1 - sink) - surface(p).distance);
    near.length = 0;
    grid.near(p[0], p[1], p[2], r, near);
    for (const index of near) {
      const d = grid.segments;
      const a = index * segmentStride;
      const t = segmentShare(d[a], d[a + 1], d[a + 2], d[a + 4], d[a + 5], d[a + 6], p[0], p[1], p[2]);
      const away = Math.hypot(
        p[0] - d[a] - t * (d[a + 4] - d[a]),
        p[1] - d[a + 1] - t * (d[a + 5] - d[a + 1]),
        p[2] - d[a + 2] - t * (d[a + 6] - d[a + 2]),
      );
      deepest = Math.max(deepest, (r + d[a + 3] + t * (d[a + 7] - d[a + 3])) * (1 - sink) - away);
    }
  }
  return deepest;
}
