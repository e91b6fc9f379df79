import { dirname, join } from "node:path";
import { Engine } from "../engine";
import { serveAllJobs } from "../jobs/jobs";
import { isJobProcess } from "../jobs/serveJobs";
import { CompilerThread, compileInThread } from "./compilerThread";
import { EngineService } from "./engineService";
import { measurePiece } from "./measuring";
import { planInThread } from "./planning";
import type { FromService, ToService } from "./protocol";
import { serveThread, threadRole } from "./threadCalls";

/**
 * The script of the engine's process, and of the threads in it: one compiles, one measures, one plans; and of processes
 * that do jobs. None lives longer than its channel to the editor.
 */
const script = process.argv[1];
const beside = (name: string) => join(dirname(script), name);
const engineFiles = () => ({ evaluator: beside("evaluator.cjs"), kernel: beside("manifold.wasm") });

if (isJobProcess()) serveAllJobs(engineFiles());
else if (threadRole === "compile") serveThread(compileInThread(script));
else if (threadRole === "measure") serveThread(measurePiece);
else if (threadRole === "plan") serveThread(planInThread(beside("manifold.wasm")));
else serve();

function serve(): void {
  process.on("disconnect", () => process.exit(0));
  if (!process.connected) process.exit(0);
  // Ctrl-C in a terminal reaches all its processes; the editor decides what becomes of this one.
  process.on("SIGINT", () => {});
  const compiler = new CompilerThread(script);
  compiler.warm();
  const engine = new Engine(engineFiles(), { keepWarm: true, compiler });
  const service = new EngineService(engine, compiler, script, (message: FromService) =>
    process.send?.(message),
  );
  process.on("message", (message: ToService) => service.receive(message));
  process.send?.({ kind: "ready" } satisfies FromService);
  void engine.warm();
}
