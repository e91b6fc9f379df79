import type { WornPiece } from "../wornPiece";
import { Groups } from "./bridges";
import type { Skeleton } from "./skeleton";

/** The seam entries of one line in which two parts meet. */
export interface Junction {
  readonly first: number;
  readonly second: number;
  readonly entries: number[];
  /** Whether a third part covers some of the line: then more than the two hold together. */
  covered: boolean;
  /** Whether the hollow or a cut takes some of it away. */
  cutOff: boolean;
}

/** The lines in which surfaces of two parts meet; several between the same two where they meet in several places. */
export function junctionsOf({ seams, positions }: Skeleton, { mesh }: WornPiece): Junction[] {
  // Of each vertex the entry, where it has but one.
  const entryOf = new Int32Array(positions.length / 3).fill(-1);
  const onCrowded = new Uint8Array(entryOf.length);
  for (let i = 0; i < seams.count; i++) {
    if (seams.crowded[i]) onCrowded[seams.vertices[i]] = 1;
    else entryOf[seams.vertices[i]] = i;
  }
  const groups = new Groups(seams.count);
  const covered = new Uint8Array(seams.count);
  const { triangles } = mesh;
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [triangles[t], triangles[t + 1], triangles[t + 2]];
    if (entryOf[a] < 0 && entryOf[b] < 0 && entryOf[c] < 0) continue;
    const crowded = onCrowded[a] + onCrowded[b] + onCrowded[c] > 0;
    for (const [u, v] of [
      [a, b],
      [b, c],
      [c, a],
    ]) {
      const [i, j] = [entryOf[u], entryOf[v]];
      if (i >= 0 && crowded) covered[i] = 1;
      if (i < 0 || j < 0) continue;
      if (seams.first[i] === seams.first[j] && seams.second[i] === seams.second[j]) groups.join(i, j);
    }
  }
  const known = new Map<number, Junction>();
  const pairs = new Map<number, Junction>();
  const mostParts = 0x100000;
  for (let i = 0; i < seams.count; i++) {
    const pair = seams.first[i] * mostParts + seams.second[i];
    // What is met at crowded vertices only is one place, and covered.
    const byPair = seams.crowded[i] === 1;
    const key = byPair ? pair : groups.of(i);
    const list = byPair ? pairs : known;
    let junction = list.get(key);
    if (!junction) {
      junction = {
        first: seams.first[i],
        second: seams.second[i],
        entries: [],
        covered: byPair,
        cutOff: false,
      };
      list.set(key, junction);
    }
    junction.entries.push(i);
    if (covered[i]) junction.covered = true;
    if (seams.cutOff[i]) junction.cutOff = true;
  }
  const lines = [...known.values()];
  const met = new Set(lines.map(({ first, second }) => first * mostParts + second));
  for (const [pair, junction] of pairs) if (!met.has(pair)) lines.push(junction);
  return lines;
}
