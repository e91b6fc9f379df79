import { type Wear, type WearAnswer, wear } from "../checks/wear";
import { WornHead } from "../checks/wornHead";
import { WornPiece } from "../checks/wornPiece";
import type { TriangleMesh } from "../geometry/mesh";
import { limitsOf } from "../wearLimits";
import type { Finished } from "./finished";
import type { Weighed } from "./weighing";

/** Heads that are kept with what was made of them: a few wearers are tried in turn. */
const headsKept = 4;
const heads = new Map<string, WornHead>();

/** The head of a finished piece as it is checked; the latest are kept. */
function wornHeadOf({ head, parties }: Finished, hairPressed: number): WornHead {
  const key = `${head.key} ${hairPressed}`;
  const room = { ease: head.easeOffset, hair: parties.wearer.hairThickness, hairPressed };
  const worn = heads.get(key) ?? new WornHead(head.form, room);
  heads.delete(key);
  heads.set(key, worn);
  for (const old of heads.keys()) {
    if (heads.size <= headsKept) break;
    heads.delete(old);
  }
  return worn;
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
  const { result, parties, solid, head } = finished;
  const limits = limitsOf({
    workspace: parties.workspaceLimits,
    design: result.limits,
    wearer: parties.wearer.limits,
  });
  const piece = new WornPiece({
    mesh: solid.mesh,
    parts: result.parts,
    material: parties.material,
    print: result.print,
    mass: mass.printed,
    centre: body.centre,
  });
  const hairPressed = limits.hairPressed.value;
  const worn = scan
    ? new WornHead(
        head.form,
        { ease: head.easeOffset, hair: parties.wearer.hairThickness, hairPressed },
        scan,
      )
    : wornHeadOf(finished, hairPressed);
  return wear(piece, worn, limits, tell);
}
