import { type Wear, type WearAnswer, wear } from "../checks/wear";
import { WornPiece } from "../checks/wornPiece";
import type { TriangleMesh } from "../geometry/mesh";
import { upOf } from "../print/placedPiece";
import type { Finished } from "./finished";
import { limitsInForce } from "./limitsInForce";
import type { Weighed } from "./weighing";
import { wornHeadOf } from "./wornHeads";

/**
 * Checks fit and wear of a finished piece.
 * @param tell told each answer as it is there
 * @param scan a real head's surface in the head frame, to be checked on in place of the wearer's form
 */
export function wearOf(
  finished: Finished,
  { body, mass, standing, arms }: Weighed,
  tell?: (answer: WearAnswer) => void,
  scan?: TriangleMesh,
): Wear {
  const { result, parties, solid } = finished;
  const limits = limitsInForce(finished);
  const piece = new WornPiece({
    mesh: solid.mesh,
    parts: result.parts,
    material: parties.material,
    print: parties.print.settings,
    printUp: upOf(standing.chosen.orientation),
    mass: mass.printed,
    centre: body.centre,
  });
  const worn = wornHeadOf(finished, limits.hairPressed.value, scan);
  // What lies on a real head is none of the arms that the form holds.
  return wear(piece, worn, limits, tell, scan ? undefined : arms);
}
