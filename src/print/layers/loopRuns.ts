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
    const first = Math.max(0, firstCorner(loop));
    let run = 0;
    let isFirst = true;
    for (let k = 0; k < n; k++) {
      const i = (first + k) % n;
      const j = (i + 1) % n;
      run += Math.hypot(loop[2 * j] - loop[2 * i], loop[2 * j + 1] - loop[2 * i + 1]);
      const isLast = k === n - 1;
      if (!isLast && !isCorner(loop, j)) continue;
      lengths.push(run);
      rests.push((isFirst ? 1 : 0) + (isLast ? 2 : 0));
      run = 0;
      isFirst = false;
    }
  }
  return { lengths: Float64Array.from(lengths), rests: Uint8Array.from(rests) };
}

function firstCorner(loop: Loop): number {
  for (let i = 0; i < loop.length / 2; i++) if (isCorner(loop, i)) return i;
  return -1;
}

function isCorner(loop: Loop, i: number): boolean {
  const n = loop.length / 2;
  const [before, after] = [(i + n - 1) % n, (i + 1) % n];
  const [ax, ay] = [loop[2 * i] - loop[2 * before], loop[2 * i + 1] - loop[2 * before + 1]];
  const [bx, by] = [loop[2 * after] - loop[2 * i], loop[2 * after + 1] - loop[2 * i + 1]];
  return ax * bx + ay * by < cornerCosine * Math.hypot(ax, ay) * Math.hypot(bx, by);
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
