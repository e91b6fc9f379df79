/**
 * Edits that turn one word into the other: insert, delete, replace a letter, or swap two neighbours
 * (optimal string alignment, the restricted form of Damerau 1964). Letter case counts for nothing.
 */
export function editDistance(a: string, b: string): number {
  const from = a.toLowerCase();
  const to = b.toLowerCase();
  let beforeLast: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, column) => column);
  for (let row = 1; row <= from.length; row++) {
    const current = [row];
    for (let column = 1; column <= to.length; column++) {
      const same = from[row - 1] === to[column - 1];
      let edits = Math.min(last[column] + 1, current[column - 1] + 1, last[column - 1] + (same ? 0 : 1));
      const swapped =
        row > 1 && column > 1 && from[row - 1] === to[column - 2] && from[row - 2] === to[column - 1];
      if (swapped) edits = Math.min(edits, beforeLast[column - 2] + 1);
      current.push(edits);
    }
    beforeLast = last;
    last = current;
  }
  return last[to.length];
}

/**
 * The known name that was most likely meant, or undefined when none is near: at most a third of the longer
 * word may differ, and at least one edit is always allowed in a word of three letters or more. A known name
 * that begins with what was written, or the other way round, also counts ("crown" for "crownHeight"). Among
 * equally near names the first in the list.
 */
export function nearestName(written: string, known: Iterable<string>): string | undefined {
  const wanted = written.toLowerCase();
  let nearest: string | undefined;
  let leastEdits = Number.POSITIVE_INFINITY;
  let completed: string | undefined;
  for (const name of known) {
    const edits = editDistance(written, name);
    const longer = Math.max(written.length, name.length);
    if (longer >= 3 && edits <= Math.max(1, Math.floor(longer / 3)) && edits < leastEdits) {
      nearest = name;
      leastEdits = edits;
    }
    const candidate = name.toLowerCase();
    const begins = candidate.startsWith(wanted) || wanted.startsWith(candidate);
    if (completed === undefined && begins && Math.min(wanted.length, candidate.length) >= 3) completed = name;
  }
  return nearest ?? completed;
}

/** `did you mean "girth"?`, or undefined when no known name is near. */
export function didYouMean(written: string, known: Iterable<string>): string | undefined {
  const name = nearestName(written, known);
  return name === undefined ? undefined : `did you mean "${name}"?`;
}
