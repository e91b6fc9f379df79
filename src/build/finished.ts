import type { DesignResult } from "../design/part";
import type { SolidResult } from "../geometry/solid/solidBuilder";
import type { Message } from "../message";
import type { WearerHead } from "./heads";
import type { Parties } from "./parties";

/** What a finished build has to be measured. */
export interface Finished {
  readonly design: string;
  readonly result: DesignResult;
  readonly parties: Parties;
  readonly head: WearerHead;
  readonly solid: SolidResult;
  readonly messages: readonly Message[];
}
