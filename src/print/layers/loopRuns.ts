import type { Loop } from "../../geometry/slices";

/** A turn by more than this is a corner; less is a bend that is taken at full speed. */
const cornerCosine = Math.cos(Math.PI / 6);

/** Outlines as they are driven: from a corner where there is one, run after run, each up to the next corner. */
export interface LoopRuns {
  /** mm */
  readonly lengths: Float64Array;
  /** 1: the run starts from rest; 2: it ends at rest; 3: both. */
  readonly rests: Uint8Array;
}

/** Divides outlines into runs between corners of more than 30°. */
export function loopRuns(loops: readonly Loop[]): LoopRuns {
  const lengths: number[] = [];
  const rests: number[] = [];
  for (const loop of loops) {
    const n = loop.length / 2;
    measureEdges(loop);
    let first = 0;
    while (first < n && !isCorner(first, n)) first++;
    if (first === n) first = 0;
    let run = 0;
    let isFirst = true;
    for (let k = 0; k < n; k++) {
      const i = first + k < n ? first + k : first + k - n;
      run += edges[3 * i + 2];
      const isLast = k === n - 1;
      if (!isLast && !isCorner(i + 1 === n ? 0 : i + 1, n)) continue;
      lengths.push(run);
      rests.push((isFirst ? 1 : 0) + (isLast ? 2 : 0));
      run = 0;
      isFirst = false;
    }
  }
  return { lengths: Float64Array.from(lengths), rests: Uint8Array.from(rests) };
}

// Kept from call to call. Of the edge from each point on its x, y and length.
let edges = new Float64Array(3 * 1024);

function measureEdges(loop: Loop): void {
  const n = loop.length / 2;
  if (edges.length < 3 * n) edges = new Float64Array(6 * n);
  for (let i = 0; i < n; i++) {
    const j = i + 1 === n ? 0 : i + 1;
    const x = loop[2 * j] - loop[2 * i];
    const y = loop[2 * j + 1] - loop[2 * i + 1];
    edges[3 * i] = x;
    edges[3 * i + 1] = y;
    edges[3 * i + 2] = Math.sqrt(x * x + y * y);
  }
}

/** Whether the loop of n points whose edges were measured turns at a point by more than a bend. */
function isCorner(point: number, n: number): boolean {
  const a = 3 * (point === 0 ? n - 1 : point - 1);
  const b = 3 * point;
  const along = edges[a] * edges[b] + edges[a + 1] * edges[b + 1];
  return along < cornerCosine * edges[a + 2] * edges[b + 2];
}

/**
 * Ways between the starts of loops, mm, one after another, each time to the nearest that is left (a greedy tour), from
 * the first and back to it.
 */
export function hopsBetween(loops: readonly Loop[]): Float64Array {
  const count = loops.length;
  if (count < 2) return new Float64Array(0);
  const hops = new Float64Array(count);
  const left = loops.map((loop) => [loop[0], loop[1]] as const);
  const home = left[0];
  let at = home;
  left.splice(0, 1);
  for (let k = 0; k < count - 1; k++) {
    let nearest = 0;
    let least = Infinity;
    for (let i = 0; i < left.length; i++) {
      const distance = (left[i][0] - at[0]) ** 2 + (left[i][1] - at[1]) ** 2;
      if (distance < least) {
        least = distance;
        nearest = i;
      }
    }
    hops[k] = Math.sqrt(least);
    at = left[nearest];
    left[nearest] = left[left.length - 1];
    left.pop();
  }
  hops[count - 1] = Math.hypot(home[0] - at[0], home[1] - at[1]);
  return hops;
}
