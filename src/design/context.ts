import type { Message, Place } from "../message";
import { MessageError } from "../message";
import type { DesignHead } from "./head";
import type { Random } from "./random";

/**
 * What a design's calls stand in while `make` runs: the head they build around and the random numbers they
 * draw. Kept apart from the calls so that a helper function in another file needs no extra argument.
 */
interface MakeContext {
  readonly head: DesignHead;
  readonly random: Random;
}

let current: MakeContext | undefined;
let resolvePlace: () => Place | undefined = () => undefined;

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

/** Tells the language how to learn which line of the design is being run. */
export function setPlaceResolver(resolver: () => Place | undefined): void {
  resolvePlace = resolver;
}

/** The line of the design that is being run, where known. */
export const placeOfCall = (): Place | undefined => resolvePlace();

/** An error of the design's author, placed on the call that made it unless told otherwise. */
export function designError(
  message: Omit<Message, "severity"> & { place?: Place | undefined },
): MessageError {
  const { place = placeOfCall(), ...rest } = message;
  return new MessageError([{ severity: "error", ...place, ...rest }]);
}
