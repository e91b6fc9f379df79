import { describe, expect, it } from "vitest";
import { sortedOrder } from "../../../src/checks/fit/sortedOrder";
import { Random } from "../../../src/design/random";

/** The order by the language's own stable sort (ECMA-262, 23.1.3.30). */
const byComparing = (values: readonly number[]): number[] =>
  values.map((_, i) => i).sort((a, b) => values[a] - values[b]);

describe("the order of values", () => {
  const random = new Random(7);
  const many = (make: () => number): number[] => Array.from({ length: 3000 }, make);
  const lists: Readonly<Record<string, readonly number[]>> = {
    "few values": [3, -1, 2, -1, 0],
    "numbers of 64 bits": many(() => random.between(-40, 40)),
    "numbers of 32 bits": many(() => Math.fround(random.between(-40, 40))),
    "many alike, with both zeros": many(
      () => Math.round(random.between(-3, 3)) * (random.share() < 0.5 ? -1 : 1),
    ),
    "numbers from the least to the greatest": many(
      () => random.between(-1, 1) * 10 ** random.between(-300, 300),
    ),
    "all alike": many(() => 4),
    "infinities among others": many(() =>
      random.share() < 0.1 ? -Infinity : random.share() < 0.1 ? Infinity : 1,
    ),
  };
  it.each(Object.entries(lists))("is that of a stable sort by comparing: %s", (_, values) => {
    expect([...sortedOrder(values)]).toEqual(byComparing(values));
  });
});
