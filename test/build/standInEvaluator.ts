import { isMainThread } from "node:worker_threads";

/** The design's process with the stand-in language; otherwise as `evaluatorProcess`. */
async function begin(): Promise<void> {
  if (!isMainThread) {
    const { watchFromThread } = await import("../../src/build/watchdogThread");
    watchFromThread();
    return;
  }
  const { Watchdog } = await import("../../src/build/watchdog");
  const watchdog = Watchdog.begin(process.argv[1]);
  const [exports, jscad, { serveDesign }] = await Promise.all([
    import("./standInLanguage"),
    import("@jscad/modeling"),
    import("../../src/build/designProcess"),
  ]);
  serveDesign({ ...exports, exports }, jscad.default, await watchdog);
}

void begin();
