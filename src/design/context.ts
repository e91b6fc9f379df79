import { designError } from "./error";
import type { HeadSpace } from "./headSpace";
import type { Random } from "./random";

/**
 * What a design's calls stand in while `make` runs: the head they build around and the random numbers they
 * draw. Kept apart from the calls so that a helper function in another file needs no extra argument.
 */
interface MakeContext {
  readonly head: HeadSpace;
  readonly random: Random;
}

let current: MakeContext | undefined;

/** Runs `work` as the inside of a `make` function. */
export function withContext<T>(context: MakeContext, work: () => T): T {
  const before = current;
  current = context;
  try {
    return work();
  } finally {
    current = before;
  }
}

/** The head and the random numbers of the running `make`; an error for `caller` outside of one. */
export function makeContext(caller: string): MakeContext {
  if (!current) {
    throw designError({
      id: "outside-make",
      text: `${caller} needs a head, and there is none here`,
      suggestion: `call ${caller} inside make, or inside a function that make calls`,
    });
  }
  return current;
}
