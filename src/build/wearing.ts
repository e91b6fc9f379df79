import { type Wear, type WearAnswer, wear } from "../checks/wear";
import { WornHead } from "../checks/wornHead";
import { WornPiece } from "../checks/wornPiece";
import type { TriangleMesh } from "../geometry/mesh";
import { limitsOf } from "../wearLimits";
import type { Finished } from "./finished";
import { LatestKept } from "./latestKept";
import type { Weighed } from "./weighing";

/** Heads with what was made of them: a few wearers are tried in turn. */
const heads = new LatestKept<WornHead>(4);

/** The head of a finished piece as it is checked. */
function wornHeadOf({ head, parties }: Finished, hairPressed: number, scan?: TriangleMesh): WornHead {
  const room = { ease: head.easeOffset, hair: parties.wearer.hairThickness, hairPressed };
  if (scan) return new WornHead(head.form, room, scan);
  return heads.get(`${head.key} ${hairPressed}`, () => new WornHead(head.form, room));
}

/**
 * Checks fit and wear of a finished piece.
 * @param tell told each answer as it is there
 * @param scan a real head's surface in the head frame, to be checked on in place of the wearer's form
 */
export function wearOf(
  finished: Finished,
  { body, mass }: Weighed,
  tell?: (answer: WearAnswer) => void,
  scan?: TriangleMesh,
): Wear {
  const { result, parties, solid } = finished;
  const limits = limitsOf({
    workspace: parties.workspaceLimits,
    design: result.limits,
    wearer: parties.wearer.limits,
  });
  const piece = new WornPiece({
    mesh: solid.mesh,
    parts: result.parts,
    material: parties.material,
    print: parties.print.settings,
    mass: mass.printed,
    centre: body.centre,
  });
  const worn = wornHeadOf(finished, limits.hairPressed.value, scan);
  return wear(piece, worn, limits, tell);
}
