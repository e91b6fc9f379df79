import { writeSync } from "node:fs";
import { type Debugger, Session } from "node:inspector";
import { parentPort } from "node:worker_threads";
import { scriptName } from "./designStack";
import { type LimitReport, reportDescriptor } from "./evaluatorProtocol";

/** `start` watches from `startedAt` (monotonic clock, ns), `stop` rests. */
export type WatchdogOrder =
  | {
      readonly kind: "start";
      readonly startedAt: bigint;
      readonly milliseconds: number;
      readonly megabytes: number;
    }
  | { readonly kind: "stop" };

const lookEveryMs = 20;
/** A main thread inside one long native call does not stop to tell where it is. */
const waitForFramesMs = 1_200;

/**
 * The thread beside a design that keeps its limits. On the first one passed it stops the main thread with the
 * debugger to learn the line, writes one report on a pipe of its own and ends the process, so that no design
 * runs on even when nobody listens any more.
 */
export function watchFromThread(): void {
  const parent = process.ppid;
  let timer: NodeJS.Timeout | undefined;
  parentPort!.on("message", (order: WatchdogOrder) => {
    clearInterval(timer);
    timer = undefined;
    if (order.kind === "stop") return;
    const { startedAt, milliseconds, megabytes } = order;
    timer = setInterval(() => {
      if (process.ppid !== parent) endProcess();
      const elapsed = Number(process.hrtime.bigint() - startedAt) / 1e6;
      const used = process.memoryUsage.rss() / 1_048_576;
      const limit = used > megabytes ? "memory" : elapsed > milliseconds ? "time" : undefined;
      if (!limit) return;
      clearInterval(timer);
      reportAndEnd(limit);
    }, lookEveryMs);
  });
}

function reportAndEnd(limit: LimitReport["limit"]): void {
  let designScript: string | undefined;
  const report = (callFrames: readonly Debugger.CallFrame[]) => {
    clearTimeout(giveUp);
    const frames = callFrames
      .filter(({ location }) => location.scriptId === designScript)
      .map(({ location, functionName }) => ({
        line: location.lineNumber + 1,
        column: (location.columnNumber ?? 0) + 1,
        ...(functionName && { functionName }),
      }));
    const told: LimitReport = { limit, frames };
    try {
      writeSync(reportDescriptor, `${JSON.stringify(told)}\n`);
    } catch {
      // The engine is gone; ending is all that is left.
    }
    // The engine ends the process when it has read the report; this is for when it does not.
    setTimeout(endProcess, 300);
  };
  const giveUp = setTimeout(() => report([]), waitForFramesMs);
  const session = new Session();
  session.connectToMainThread();
  session.on("Debugger.scriptParsed", ({ params }) => {
    if (params.url === scriptName) designScript = params.scriptId;
  });
  session.once("Debugger.paused", ({ params }) => report(params.callFrames));
  session.post("Debugger.enable");
  session.post("Debugger.pause");
}

function endProcess(): void {
  process.kill(process.pid, "SIGKILL");
}
