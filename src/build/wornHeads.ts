import { WornHead } from "../checks/wornHead";
import type { TriangleMesh } from "../geometry/mesh";
import { knownHeadOf } from "../head/knownHead";
import type { Finished } from "./finished";
import { LatestKept } from "./latestKept";

/** Heads with what was made of them: a few wearers are tried in turn. */
const heads = new LatestKept<WornHead>(4);

/**
 * The head of a finished piece as it is checked.
 * @param scan a real head's surface in the head frame, in place of the wearer's form
 */
export function wornHeadOf({ head, parties }: Finished, hairPressed: number, scan?: TriangleMesh): WornHead {
  const room = { ease: head.easeOffset, hair: parties.wearer.hairThickness, hairPressed };
  // A scan gives every measure that matters: nothing is left to be unsure of.
  if (scan) return new WornHead(head.form, room, scan);
  if (parties.wearer.scanned)
    return heads.get(`${head.key} ${hairPressed}`, () => new WornHead(head.form, room));
  const known = knownHeadOf(parties.wearer);
  const key = JSON.stringify([head.key, hairPressed, known.estimated, known.measuringErrors]);
  return heads.get(key, () => new WornHead(head.form, room, undefined, known));
}
