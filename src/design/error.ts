import type { Message, Place } from "../message";
import { MessageError } from "../message";

let resolvePlace: () => Place | undefined = () => undefined;

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
