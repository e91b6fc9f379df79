import { describe, expect, test } from "vitest";
import { Random } from "../../../src/design/random";
import { type Placed, spatialTree, type TreeNode } from "../../../src/geometry/solid/spatialTree";

/** A body that fills a box along x. */
const along = (key: string, from: number, to: number): Placed => ({
  key,
  box: { min: [from, 0, 0], max: [to, 1, 1] },
});

const leavesOf = (node: TreeNode): TreeNode[] =>
  node.children.length === 0 ? [node] : node.children.flatMap(leavesOf);

const names = (count: number) =>
  Array.from({ length: count }, (_, i) => `body ${String(i).padStart(2, "0")}`);

/** A bead on each mark, and one from each mark to the next: two sets, of which none meets its own. */
const chain = names(20).map((key, i) => along(key, i, i + 1.5));
/** All in one place: as many sets as bodies. */
const heap = names(20).map((key, i) => along(key, i / 100, 10 + i / 100));

describe("which bodies are united together", () => {
  test("all at once where their boxes fall into few sets that are apart", () => {
    expect(spatialTree(chain).children).toEqual([]);
  });

  test("by halves where all meet all", () => {
    const tree = spatialTree(heap);
    expect(tree.children.map(({ members }) => members.length)).toEqual([10, 10]);
    for (const { members } of leavesOf(tree)) expect(members.length).toBeLessThanOrEqual(4);
  });

  test("neighbours first: of two heaps apart each is a half", () => {
    const far = names(20).map((key, i) => along(`far ${key}`, 100 + i / 100, 110 + i / 100));
    const [near, other] = spatialTree([...far, ...heap]).children;
    expect(near.members.every((key) => !key.startsWith("far"))).toBe(true);
    expect(other.members.every((key) => key.startsWith("far"))).toBe(true);
  });

  test.each([
    ["a chain", chain],
    ["a heap", heap],
  ])("%s: each body once, and the same tree in whatever order they come", (_, bodies) => {
    const tree = spatialTree(bodies);
    expect([...tree.members].sort()).toEqual(bodies.map(({ key }) => key));
    const random = new Random(5);
    for (let round = 0; round < 5; round++) {
      const shuffled = bodies
        .map((body) => ({ body, place: random.between(0, 1) }))
        .sort((a, b) => a.place - b.place)
        .map(({ body }) => body);
      expect(spatialTree(shuffled)).toEqual(tree);
    }
  });
});
