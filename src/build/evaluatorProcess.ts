import { isMainThread } from "node:worker_threads";

/**
 * The script of the process that runs one design, and of the watchdog thread in it: bundled as one file, each
 * loads only its own half.
 */
async function begin(): Promise<void> {
  if (!isMainThread) {
    const { watchFromThread } = await import("./watchdogThread");
    watchFromThread();
    return;
  }
  const { Watchdog } = await import("./watchdog");
  // Its thread starts while this one loads the rest.
  const watchdog = Watchdog.begin(process.argv[1]);
  const [language, { readHeader, runDesign }, { setPlaceResolver }, jscad, { serveDesign }] =
    await Promise.all([
      import("../design/index"),
      import("../design/run"),
      import("../design/error"),
      import("@jscad/modeling"),
      import("./designProcess"),
    ]);
  serveDesign(
    {
      exports: language,
      readHeader,
      runDesign: (design, input) => runDesign(design, input as never),
      setPlaceResolver,
    },
    jscad.default,
    await watchdog,
  );
}

void begin();
