import { type Runtime, Session } from "node:inspector";
import { scriptName } from "./designStack";
import type { ScriptFrame } from "./sourcePlaces";

/**
 * Where a function throws something that is not an `Error` and so has no stack: runs it once more and asks
 * the engine's own inspector. A design does the same when run again, so this finds the same throw.
 */
export function throwSite(again: () => unknown): ScriptFrame | undefined {
  const key = "anadem:again";
  const holder = globalThis as Record<string, unknown>;
  const session = new Session();
  let details: Runtime.ExceptionDetails | undefined;
  try {
    session.connect();
    holder[key] = again;
    session.post("Runtime.enable");
    session.post(
      "Runtime.evaluate",
      { expression: `globalThis[${JSON.stringify(key)}]()`, silent: true },
      (_, answer) => {
        details = answer?.exceptionDetails;
      },
    );
  } finally {
    delete holder[key];
    session.disconnect();
  }
  if (!details) return undefined;
  const frame = details.stackTrace?.callFrames.find(({ url }) => url === scriptName);
  const at = frame ?? (details.url === scriptName ? details : undefined);
  return at && { line: at.lineNumber + 1, column: at.columnNumber + 1 };
}
