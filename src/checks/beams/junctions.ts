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
  const { first, second } = seams;
  const join = (i: number, j: number): void => {
    if (i >= 0 && j >= 0 && first[i] === first[j] && second[i] === second[j]) groups.join(i, j);
  };
  for (let t = 0; t < triangles.length; t += 3) {
    const a = triangles[t];
    const b = triangles[t + 1];
    const c = triangles[t + 2];
    const i = entryOf[a];
    const j = entryOf[b];
    const k = entryOf[c];
    if (i < 0 && j < 0 && k < 0) continue;
    if (onCrowded[a] + onCrowded[b] + onCrowded[c] > 0) {
      for (const entry of [i, j, k]) if (entry >= 0) covered[entry] = 1;
    }
    join(i, j);
    join(j, k);
    join(k, i);
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
