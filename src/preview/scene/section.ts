import type { SectionPlane } from "../pieceView";
import type { Box } from "./bounds";
import type { Cut } from "./rayIndex";
import type { Vector } from "./vector";

const axes = { right: 0, forward: 1, up: 2 } as const;

/**
 * The plane of a section: what lies further along the axis than `share` of the piece's extent is cut away, so 1 cuts
 * nothing and 0 all of the piece.
 */
export function cutOf({ axis, share }: SectionPlane, { least, most }: Box): Cut {
  const at = axes[axis];
  const normal: Vector = [at === 0 ? 1 : 0, at === 1 ? 1 : 0, at === 2 ? 1 : 0];
  const clamped = Math.max(0, Math.min(1, share));
  return { normal, offset: least[at] + clamped * (most[at] - least[at]) };
}
