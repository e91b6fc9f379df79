import { createHash } from "node:crypto";

/** A body's place in space, by which bodies that are near are united first. */
export interface Placed {
  readonly key: string;
  readonly centre: readonly [number, number, number];
}

/** Bodies in groups of groups: neighbours together. The key of a node stands for all that is below it. */
export interface TreeNode {
  readonly key: string;
  /** Keys of the bodies below, in the order in which they are united. */
  readonly members: readonly string[];
  readonly children: readonly TreeNode[];
}

/** Bodies in one leaf group. */
const leafSize = 4;

/**
 * Groups bodies by halving them again and again across their longest extent. The same bodies give the same tree,
 * in whatever order they come.
 */
export function spatialTree(bodies: readonly Placed[]): TreeNode {
  const ordered = [...bodies].sort((a, b) => (a.key < b.key ? -1 : a.key > b.key ? 1 : 0));
  return grouped(ordered);
}

function grouped(bodies: readonly Placed[]): TreeNode {
  if (bodies.length <= leafSize) return node(bodies, []);
  const spread = [0, 1, 2].map((axis) => {
    const along = bodies.map(({ centre }) => centre[axis]);
    return Math.max(...along) - Math.min(...along);
  });
  const axis = spread.indexOf(Math.max(...spread));
  const sorted = [...bodies].sort((a, b) => a.centre[axis] - b.centre[axis]);
  const half = sorted.length >> 1;
  return node(sorted, [grouped(sorted.slice(0, half)), grouped(sorted.slice(half))]);
}

function node(bodies: readonly Placed[], children: readonly TreeNode[]): TreeNode {
  const members = children.length > 0 ? children.flatMap((child) => child.members) : bodies.map((b) => b.key);
  const key =
    members.length === 1 ? members[0] : createHash("sha1").update(members.join("\n")).digest("base64");
  return { key, members, children };
}
