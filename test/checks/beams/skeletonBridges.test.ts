import { describe, expect, it } from "vitest";
import { bridgesOf, Groups } from "../../../src/checks/beams/bridges";
import { Random } from "../../../src/design/random";

/** Component of each node without one edge, by flooding. */
function flooded(nodes: number, ends: readonly number[], without = -1): number[] {
  const of = Array.from({ length: nodes }, () => -1);
  let count = 0;
  for (let root = 0; root < nodes; root++) {
    if (of[root] >= 0) continue;
    const waiting = [root];
    of[root] = count;
    while (waiting.length > 0) {
      const node = waiting.pop() ?? 0;
      for (let edge = 0; 2 * edge < ends.length; edge++) {
        if (edge === without) continue;
        const [a, b] = [ends[2 * edge], ends[2 * edge + 1]];
        const other = a === node ? b : b === node ? a : -1;
        if (other >= 0 && of[other] < 0) {
          of[other] = count;
          waiting.push(other);
        }
      }
    }
    count++;
  }
  return of;
}

describe("bridges", () => {
  it("are those edges without which there are more components, and what lies beyond each stands together", () => {
    const seed = 4;
    let bridges = 0;
    for (let round = 0; round < 300; round++) {
      const random = new Random(seed).named(round);
      const nodes = Math.floor(random.between(1, 16));
      const edges = Math.floor(random.between(0, 1.6 * nodes));
      // Loops and double edges are in it.
      const ends = Array.from({ length: 2 * edges }, () => Math.floor(random.between(0, nodes - 1e-9)));
      const found = bridgesOf({ nodes, ends });
      const label = `seed ${seed}, round ${round}`;
      const whole = flooded(nodes, ends);
      expect(new Set(found.component).size, label).toBe(new Set(whole).size);
      expect(
        [...found.order].sort((a, b) => a - b),
        label,
      ).toEqual(Array.from({ length: nodes }, (_, i) => i));
      for (let edge = 0; edge < edges; edge++) {
        const parted = flooded(nodes, ends, edge);
        const isBridge = new Set(parted).size > new Set(whole).size;
        expect(found.isBridge[edge] === 1, label).toBe(isBridge);
        if (!isBridge) continue;
        bridges++;
        const far = found.beyond[edge];
        expect([ends[2 * edge], ends[2 * edge + 1]], label).toContain(far);
        const beyond = [...found.order.subarray(found.place[far], found.end[far])].sort((a, b) => a - b);
        const exact = parted.flatMap((component, node) => (component === parted[far] ? node : []));
        expect(beyond, label).toEqual(exact);
      }
    }
    expect(bridges).toBeGreaterThan(300);
  });

  it("takes a chain of many nodes without running out of stack", () => {
    const nodes = 200_000;
    const ends = Array.from({ length: nodes - 1 }, (_, i) => [i, i + 1]).flat();
    expect(bridgesOf({ nodes, ends }).isBridge.every((flag) => flag === 1)).toBe(true);
  });
});

describe("groups", () => {
  it("are numbered by their members", () => {
    const groups = new Groups(6);
    groups.join(0, 3);
    groups.join(3, 5);
    groups.join(1, 2);
    const { count, of } = groups.numbered();
    expect(count).toBe(3);
    expect([...of]).toEqual([0, 1, 1, 0, 2, 0]);
  });
});
