import type { Message } from "../message";

/** What a document holds, unless a message is an error. */
export interface DataReading<T> {
  readonly value?: T;
  readonly messages: readonly Message[];
}
