import { copyFileSync, mkdtempSync, rmSync, symlinkSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { build } from "esbuild";

const root = new URL("../../..", import.meta.url).pathname;

/** Bundles the engine's process and all that it runs into a folder of its own, as the package has them. */
export async function bundleEngine(): Promise<{ script: string; folder: string; remove: () => void }> {
  const folder = mkdtempSync(join(tmpdir(), "anadem-engine-"));
  const programs = {
    engine: "src/build/service/engineProcess.ts",
    evaluator: "src/build/evaluatorProcess.ts",
  };
  await build({
    absWorkingDir: root,
    entryPoints: programs,
    outdir: folder,
    outExtension: { ".js": ".cjs" },
    bundle: true,
    platform: "node",
    format: "cjs",
    target: "node20",
    mainFields: ["module", "main"],
    external: ["esbuild", "esbuild-wasm"],
    banner: { js: 'const __programUrl = require("node:url").pathToFileURL(__filename).href;' },
    define: { "import.meta.url": "__programUrl" },
    logLevel: "error",
  });
  const require = createRequire(import.meta.url);
  copyFileSync(require.resolve("manifold-3d/manifold.wasm"), join(folder, "manifold.wasm"));
  symlinkSync(join(root, "node_modules"), join(folder, "node_modules"), "junction");
  return {
    script: join(folder, "engine.cjs"),
    folder,
    remove: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** A wearer's file with all that matters measured: how sure the fit is need not be drawn at each build. */
export const measuredWearer = (name: string, girth: number): string =>
  JSON.stringify({
    name,
    units: "mm",
    girth,
    length: Math.round(0.344 * girth),
    breadth: Math.round(0.267 * girth),
    crownHeight: Math.round(0.227 * girth),
    earLength: 62,
    earProtrusion: 22,
  });
