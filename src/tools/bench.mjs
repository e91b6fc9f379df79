/** `npm run bench`: the figures that the project holds itself to, as a table, or as one object with --json. */
import { spawnSync } from "node:child_process";
import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { bundleInto, dist } from "./bundle.mjs";
import { ensurePackages, root } from "./setup.mjs";

ensurePackages(console.error);
const { build } = await import("esbuild");
const folder = join(dist, "bench");
const program = join(folder, "bench.mjs");
mkdirSync(folder, { recursive: true });
await bundleInto(folder, { types: false });
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
  env: { ...process.env, ANADEM_PROGRAMS: folder },
});
process.exit(status ?? 1);
