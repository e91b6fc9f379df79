import { counted, resultText } from "./rowWords";
import type { ShownState } from "./shownState";

/** A long run is told of so often, ms: who listens is not to be talked over. */
const interval = 10_000;

/**
 * What is said of a run to who listens: when it begins, how far it is from time to time, and what came of it when it
 * ends. @param now ms
 */
export function makeRunTeller(): (shown: ShownState, now: number) => string | undefined {
  let phase: string | undefined;
  let last = 0;
  return ({ table, figures }, now) => {
    if (!table) return undefined;
    const before = phase;
    const { run, groups } = table;
    phase = run.phase;
    if (run.phase === "running") {
      if (before !== "running") {
        last = now;
        return `Refitting ${counted(run.all, "row")}.`;
      }
      if (now - last < interval || run.done === 0) return undefined;
      last = now;
      return `${run.done} of ${run.all} made.`;
    }
    if (before !== "running") return undefined;
    if (run.phase === "cancelled") return "Refit cancelled.";
    if (run.phase === "failed") return `The refit stopped: ${run.trouble ?? "something went wrong"}`;
    if (run.phase === "paused") return undefined;
    const rows = groups.flatMap((group) => group.rows.flatMap(({ key }) => figures.get(key) ?? []));
    return `${resultText(rows)}.`;
  };
}
