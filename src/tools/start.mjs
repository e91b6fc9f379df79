/** `npm start`: the coral crown of The Tide Court from a fresh clone, into `out/`. */
import { spawnSync } from "node:child_process";
import { join } from "node:path";
import { dist, ensureBundled } from "./bundle.mjs";
import { ensurePackages, root } from "./setup.mjs";

ensurePackages(console.error);
await ensureBundled(console.error);
console.error("Making the coral crown…");
const { status } = spawnSync(
  process.execPath,
  [join(dist, "anadem.mjs"), "build", join("samples", "coral-crown.headpiece.ts"), "--out", "out"],
  { cwd: root, stdio: "inherit" },
);
process.exit(status ?? 1);
