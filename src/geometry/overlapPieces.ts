import type { BodyPiece } from "./bodyPiece";
import type { Curve } from "./curve";
import { type Stretch, withoutFolds } from "./foldedBend";
import { type PreparedTube, prepareTube } from "./rings";
import { runsAndHulls } from "./runsAndHulls";
import { nearPairs, preparedSelfOverlap } from "./selfOverlap";
import { checkedTolerance, defaultTolerance, sweepPrepared } from "./sweep";
import type { TubeProfile } from "./tips";
import type { TubeShape } from "./tubeShape";

/** How often a tube is halved before runs and hulls take over. */
const mostHalvings = 2;
/** Ways to take folds out, one after the other until they come out well; `finer`: share of the tolerance for rings. */
const ways = [
  { finer: 1, apart: false },
  { finer: 0.5, apart: false },
  { finer: 0.5, apart: true },
];

/**
 * A tube as pieces whose union is the true solid (every point of every section along the path), also where the sweep of
 * the whole would overlap itself. An ordinary tube comes back as its sweep; one that folds over itself in its bends
 * as one mesh without the folds, if it can be (see `withoutFolds`); else it is halved, and each half treated alike.
 */
export function overlapPieces(shape: TubeShape, tolerance = defaultTolerance): BodyPiece[] {
  return preparedPieces(prepareTube(shape, checkedTolerance(tolerance)), tolerance);
}

/** `overlapPieces` of a tube that is measured already, or of its stretch between two shares. */
export function preparedPieces(tube: PreparedTube, tolerance: number, from = 0, to = 1): BodyPiece[] {
  const near = nearPairs(tube);
  if (preparedSelfOverlap(tube, near).length === 0) {
    return [{ kind: "mesh", mesh: sweepPrepared(tube, tolerance, from, to) }];
  }
  return piecesOf({ tube, from, to, plugged: false, near }, tolerance, mostHalvings);
}

function piecesOf(stretch: Stretch, tolerance: number, halvings: number): BodyPiece[] {
  for (const { finer, apart } of ways) {
    const mesh = withoutFolds(stretch, tolerance * finer, apart);
    if (typeof mesh !== "string") return [{ kind: "mesh", mesh }];
    if (mesh === "impossible") break;
  }
  const { tube, from, to } = stretch;
  const { curve, profile } = tube;
  const radius = profile.radiusAt(((from + to) / 2) * curve.length);
  if (halvings === 0 || (to - from) * curve.length < radius) return runsAndHulls(stretch, tolerance);
  const cut = gentlestShare(curve, profile, from, to);
  const flat = { kind: "flat" } as const;
  const first = { ...stretch, tube: { ...tube, profile: { ...profile, end: flat } }, to: cut };
  const second = {
    ...stretch,
    tube: { ...tube, profile: { ...profile, start: flat } },
    from: cut,
    plugged: true,
  };
  return [...piecesOf(first, tolerance, halvings - 1), ...piecesOf(second, tolerance, halvings - 1)];
}

/** Where the middle half of a stretch bends least for its radius. */
function gentlestShare(curve: Curve, profile: TubeProfile, from: number, to: number): number {
  let [best, least] = [(from + to) / 2, Number.POSITIVE_INFINITY];
  for (let i = 0; i <= 24; i++) {
    const share = from + (to - from) * (0.25 + i / 48);
    const bend = curve.curvatureAt(share) * profile.radiusAt(share * curve.length) + Math.abs(i - 12) / 24;
    if (bend < least) [best, least] = [share, bend];
  }
  return best;
}
