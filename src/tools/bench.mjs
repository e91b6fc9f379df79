/** `npm run bench`: the figures that the project holds itself to, as a table, or as one object with --json. */
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { dist } from "./bundle.mjs";
import { ensurePackages, root } from "./setup.mjs";

ensurePackages(console.error);
const { build } = await import("esbuild");
const require = createRequire(import.meta.url);
const program = join(dist, "bench.mjs");
mkdirSync(dist, { recursive: true });
await build({
  absWorkingDir: root,
  entryPoints: ["test/bench/main.ts"],
  outfile: program,
  bundle: true,
  platform: "node",
  mainFields: ["module", "main"],
  target: "node20",
  format: "esm",
  external: ["esbuild"],
  banner: {
    js: 'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);',
  },
});
const { status } = spawnSync(process.execPath, ["--expose-gc", program, ...process.argv.slice(2)], {
  stdio: "inherit",
  env: { ...process.env, ANADEM_KERNEL: require.resolve("manifold-3d/manifold.wasm") },
});
process.exit(status ?? 1);
