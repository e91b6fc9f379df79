import { EngineLostError } from "../../build/service/engineContract";
import type { Message } from "../../message";

/** What is said of a build that the tool itself could not do: nothing the design did wrong for certain. */
export function engineTrouble(error: unknown, design: string): Message {
  // What follows the first line is for the log.
  const [said] = (error instanceof Error ? error.message : String(error)).split("\n");
  if (error instanceof EngineLostError) {
    return {
      id: "engine-lost",
      severity: "error",
      text: `the engine ended twice while it built this design: ${said}`,
      suggestion: "save again; if it ends again, make the design smaller, and look into the log",
      file: design,
    };
  }
  return {
    id: "engine-fault",
    severity: "error",
    text: `the engine could not build this design: ${said}`,
    suggestion: "restart the engine, and look into the log",
    file: design,
  };
}
