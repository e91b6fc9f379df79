import { createHash } from "node:crypto";
import type { Box } from "manifold-3d";
import { boxesMeet } from "./boxes";

/** A body's place in space, by which bodies that are near are united first. */
export interface Placed {
  readonly key: string;
  readonly box: Box;
}

/** Bodies in groups of groups: neighbours together. The key of a node stands for all that is below it. */
export interface TreeNode {
  readonly key: string;
  /** Keys of the bodies below, in the order in which they are united. */
  readonly members: readonly string[];
  readonly children: readonly TreeNode[];
}

/** Bodies in one leaf group, at least. */
const leafSize = 4;

/**
 * Groups bodies by halving them again and again across their longest extent, until a group is small or best united at
 * once. The same bodies give the same tree, in whatever order they come.
 */
export function spatialTree(bodies: readonly Placed[]): TreeNode {
  const ordered = [...bodies].sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
  return grouped(ordered);
}

function grouped(bodies: readonly Placed[]): TreeNode {
  if (bodies.length <= leafSize || fallsIntoFewSets(bodies)) return node(bodies, []);
  const spread = [0, 1, 2].map((axis) => {
    const along = bodies.map((body) => twiceCentre(body, axis));
    return Math.max(...along) - Math.min(...along);
  });
  const axis = spread.indexOf(Math.max(...spread));
  const sorted = [...bodies].sort((a, b) => twiceCentre(a, axis) - twiceCentre(b, axis));
  const half = sorted.length >> 1;
  return node(sorted, [grouped(sorted.slice(0, half)), grouped(sorted.slice(half))]);
}

const twiceCentre = ({ box }: Placed, axis: number): number => box.min[axis] + box.max[axis];

/**
 * Whether a group is best united at once. The kernel then puts bodies whose boxes are apart together without intersecting
 * them, set by set, and unites the sets: every triangle passes log₂ of their number of unions, where halving makes it
 * log₂ of the bodies' number. Sets lie all over each other, so that a pass costs more: they have to spare half of them.
 */
function fallsIntoFewSets(bodies: readonly Placed[]): boolean {
  const most = Math.floor(Math.sqrt(bodies.length));
  const sets: Placed[][] = [];
  for (const body of bodies) {
    const room = sets.find((set) => !set.some((other) => boxesMeet(body.box, other.box)));
    if (room) room.push(body);
    else if (sets.length === most) return false;
    else sets.push([body]);
  }
  return true;
}

function node(bodies: readonly Placed[], children: readonly TreeNode[]): TreeNode {
  const members = children.length > 0 ? children.flatMap((child) => child.members) : bodies.map((b) => b.key);
  const key =
    members.length === 1 ? members[0] : createHash("sha1").update(members.join("\n")).digest("base64");
  return { key, members, children };
}
