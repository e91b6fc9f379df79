import type { Orientation } from "../../orientation";
import { angleBetween } from "../orientation/directions";
import type { FoundOrientation } from "../orientation/orientationSearch";
import { upOf } from "../placedPiece";
import type { OrientationCandidate } from "./variant";

/** Nearer than this, two ways up are one, degrees: what is chosen may be rounded. */
const same = 1;

/**
 * The ways up that a search found as candidates, and which of them is the one chosen; it is added where the search did not
 * find it.
 */
export function orientationCandidates(
  found: readonly Pick<FoundOrientation, "names" | "orientation" | "fits">[],
  chosen: { readonly orientation: Orientation; readonly fits: boolean },
): { readonly candidates: readonly OrientationCandidate[]; readonly chosen: number } {
  const candidates = found.map(({ names, orientation, fits }) => ({
    name: names.join(", "),
    orientation,
    fits,
  }));
  const up = upOf(chosen.orientation);
  const at = candidates.findIndex(({ orientation }) => angleBetween(upOf(orientation), up) < same);
  if (at < 0) {
    return { candidates: [...candidates, { name: "as chosen", ...chosen }], chosen: candidates.length };
  }
  // The chosen one's own turn and fit hold.
  const own = { name: candidates[at].name, orientation: chosen.orientation, fits: chosen.fits };
  return { candidates: candidates.with(at, own), chosen: at };
}
