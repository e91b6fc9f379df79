import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";

const here = new URL(".", import.meta.url).pathname;

export const standInEvaluator = join(here, "standInEvaluator.ts");
export const realEvaluator = join(here, "../../src/build/evaluatorProcess.ts");

/** Bundles a script of the design's process into a folder of its own, as the release does. */
export async function bundleEvaluator(source: string): Promise<{ entry: string; remove: () => void }> {
  const folder = mkdtempSync(join(tmpdir(), "anadem-evaluator-"));
  const entry = join(folder, "evaluator.cjs");
  await build({
    entryPoints: [source],
    outfile: entry,
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node20",
    logLevel: "error",
  });
  return { entry, remove: () => rmSync(folder, { recursive: true, force: true }) };
}
