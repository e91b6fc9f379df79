/** Letters to change, add, drop or swap to get from one word to the other (Damerau 1964). */
const editDistance = (a: string, b: string): number => {
  const rows: number[][] = [];
  for (let i = 0; i <= a.length; i++) {
    rows.push([i]);
    for (let j = 1; j <= b.length; j++) {
      if (i === 0) {
        rows[0][j] = j;
        continue;
      }
      const same = a[i - 1] === b[j - 1] ? 0 : 1;
      let best = Math.min(rows[i - 1][j] + 1, rows[i][j - 1] + 1, rows[i - 1][j - 1] + same);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) {
        best = Math.min(best, rows[i - 2][j - 2] + 1);
      }
      rows[i][j] = best;
    }
  }
  return rows[a.length][b.length];
};

/** The known name nearest to a misspelt one, or undefined where none is near. */
export const nearestName = (name: string, known: readonly string[]): string | undefined => {
  const plain = (word: string): string => word.toLowerCase().replace(/[^a-z]/g, "");
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const candidate of known) {
    const d = editDistance(plain(name), plain(candidate));
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return best !== undefined && least <= Math.max(2, Math.floor(best.length / 2)) ? best : undefined;
};
