/** `one` is no worse than `other` in every number and better in one, where less is better. */
export function dominates(one: readonly number[], other: readonly number[]): boolean {
  let isBetter = false;
  for (let i = 0; i < one.length; i++) {
    if (one[i] > other[i]) return false;
    if (one[i] < other[i]) isBetter = true;
  }
  return isBetter;
}

/**
 * Which items no other dominates (Pareto 1906), each by its numbers, of which less is better. Of items with the same
 * numbers all are in it. Sorted by their numbers first, so that whatever dominates an item comes before it.
 */
export function paretoFront<T>(items: readonly T[], numbersOf: (item: T) => readonly number[]): T[] {
  const numbered = items.map((item, index) => ({ item, index, numbers: numbersOf(item) }));
  for (const { numbers } of numbered) {
    if (numbers.some(Number.isNaN)) throw new RangeError("An item is judged by a number that is none.");
  }
  numbered.sort((one, other) => {
    const at = one.numbers.findIndex((value, i) => value !== other.numbers[i]);
    return at < 0 ? 0 : one.numbers[at] < other.numbers[at] ? -1 : 1;
  });
  const front: typeof numbered = [];
  for (const candidate of numbered) {
    if (!front.some(({ numbers }) => dominates(numbers, candidate.numbers))) front.push(candidate);
  }
  return front.sort((one, other) => one.index - other.index).map(({ item }) => item);
}

/** At most so many of a list, evenly spread, its first and last among them. */
export function evenly<T>(items: readonly T[], most: number): T[] {
  if (items.length <= most) return [...items];
  if (most < 2) return items.slice(0, Math.max(0, most));
  return Array.from({ length: most }, (_, i) => items[Math.round((i * (items.length - 1)) / (most - 1))]);
}
