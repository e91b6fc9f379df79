import { WornHead } from "../checks/wornHead";
import type { TriangleMesh } from "../geometry/mesh";
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
  if (scan) return new WornHead(head.form, room, scan);
  return heads.get(`${head.key} ${hairPressed}`, () => new WornHead(head.form, room));
}
