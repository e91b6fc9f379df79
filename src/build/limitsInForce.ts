import { type Limits, limitsOf } from "../wearLimits";
import type { Finished } from "./finished";

/** The limits that a finished piece is held against: the folder's, the design's, the wearer's. */
export const limitsInForce = ({ result, parties }: Pick<Finished, "result" | "parties">): Limits =>
  limitsOf({
    workspace: parties.workspaceLimits,
    design: result.limits,
    wearer: parties.wearer.limits,
  });
