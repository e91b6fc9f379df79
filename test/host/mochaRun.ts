import { writeFileSync } from "node:fs";
import Mocha from "mocha";

/** What a run leaves behind; written after every test, so that a crash leaves it too. */
export interface RunResults {
  /** Where it ran, in words. */
  readonly host: string;
  passed: number;
  failed: number;
  pending: number;
  /** All tests had their turn. */
  isEnded: boolean;
  /** Figures that were measured on the way, by name. */
  readonly figures: Record<string, unknown>;
}

export interface RunOptions {
  /** Where it runs, in words. */
  readonly host: string;
  /** Where the results go. */
  readonly file: string;
  /** Only tests whose name contains it. */
  readonly grep?: string;
  /** The first failure ends the run: later tests build on earlier ones. */
  readonly bail?: boolean;
  /** Told how each test went, line by line. */
  say(line: string): void;
}

const figures: Record<string, unknown> = {};

/** Keeps a figure that was measured on the way, for whoever reads the results. */
export function tellFigure(name: string, value: unknown): void {
  figures[name] = value;
}

/** Runs all tests that `load` declares, one after another, and says how each went. */
export async function runTests(options: RunOptions, load: () => Promise<unknown>): Promise<RunResults> {
  const { host, file, say } = options;
  const results: RunResults = { host, passed: 0, failed: 0, pending: 0, isEnded: false, figures };
  const keep = () => writeFileSync(file, JSON.stringify(results));
  keep();
  const { grep, bail } = options;
  const mocha = new Mocha({ ui: "bdd", timeout: 400_000, reporter: Mocha.reporters.Base, grep, bail });
  mocha.suite.emit("pre-require", globalThis, "", mocha);
  await load();
  await new Promise<void>((resolve) => {
    const runner = mocha.run(() => resolve());
    runner.on("suite", ({ title }) => title && say(title));
    runner.on("pass", ({ title, duration = 0 }) => {
      results.passed++;
      say(`  ok       ${title} (${(duration / 1000).toFixed(1)} s)`);
      keep();
    });
    runner.on("fail", ({ title }, error) => {
      results.failed++;
      say(`  FAILED   ${title}`);
      for (const line of (error.stack ?? String(error)).split("\n")) say(`           ${line}`);
      keep();
    });
    runner.on("pending", ({ title }) => {
      results.pending++;
      say(`  left out ${title}`);
    });
  });
  results.isEnded = true;
  keep();
  return results;
}
