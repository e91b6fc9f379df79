/** `npm run bench`: the figures that the project holds itself to, as a table, or as one object with --json. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { bundleInto, bundleProgram, dist } from "./bundle.mjs";
import { ensurePackages } from "./setup.mjs";

ensurePackages(console.error);
const folder = join(dist, "bench");
const program = join(folder, "bench.mjs");
await bundleInto(folder, { types: false });
await bundleProgram("test/bench/main.ts", program);
const { status } = spawnSync(process.execPath, ["--expose-gc", program, ...process.argv.slice(2)], {
  stdio: "inherit",
  env: { ...process.env, ANADEM_PROGRAMS: folder },
});
process.exit(status ?? 1);
