/**
 * `npm test`: all checks from a fresh clone; the last line counts them. `npm test -- ARGS` gives the arguments to vitest
 * and leaves out the suites in a real VS Code: it is for a part of the tests.
 */
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { bundle } from "./bundle.mjs";
import { ensureGit, HostMissing } from "./hostInstall.mjs";
import { endOnInterrupt } from "./hostProcess.mjs";
import { testByDrive, testInHost } from "./hostTest.mjs";
import { ensurePackages, root } from "./setup.mjs";

ensurePackages(console.error);
endOnInterrupt();
const forVitest = process.argv.slice(2);

const tally = { passed: 0, failed: 0 };

/** Runs a tool of the project and says how it went. */
function check(name, tool, args) {
  const began = performance.now();
  const bin = join(root, "node_modules", ...tool.split("/"));
  const { status } = spawnSync(process.execPath, [bin, ...args], { cwd: root, stdio: "inherit" });
  const seconds = ((performance.now() - began) / 1000).toFixed(1);
  console.log(`${status === 0 ? "ok    " : "FAILED"} ${name} (${seconds} s)`);
  return status === 0;
}

function counted(name, tool, args) {
  if (check(name, tool, args)) tally.passed++;
  else tally.failed++;
}

counted("types", "typescript/bin/tsc", ["-p", "."]);
counted("format and lint", "@biomejs/biome/bin/biome", ["check", "--error-on-warnings", "."]);
counted("import directions", "dependency-cruiser/bin/dependency-cruise.mjs", [
  "--config",
  ".dependency-cruiser.cjs",
  "src",
]);
await bundle();
await ensureGit(console.error).catch((error) => {
  if (!(error instanceof HostMissing)) throw error;
  // The tests that need it then fail and say so.
  console.error(error.message);
});

const results = mkdtempSync(join(tmpdir(), "anadem-test-"));
try {
  const file = join(results, "results.json");
  const ran = check("vitest", "vitest/vitest.mjs", [
    "run",
    "--config",
    "test/vitest.config.ts",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${file}`,
    ...forVitest,
  ]);
  const { numPassedTests = 0, numFailedTests = 0 } = existsSync(file)
    ? JSON.parse(readFileSync(file, "utf8"))
    : {};
  tally.passed += numPassedTests;
  // A run that fails without a failed test (a file that does not load, no test at all) is a failure too.
  tally.failed += numFailedTests > 0 ? numFailedTests : ran && numPassedTests > 0 ? 0 : 1;
} finally {
  rmSync(results, { recursive: true, force: true });
}

if (forVitest.length === 0) {
  for (const test of [testInHost, testByDrive]) {
    const { passed, failed } = await test();
    tally.passed += passed;
    tally.failed += failed;
  }
}

console.log(`\n${tally.passed} passed, ${tally.failed} failed`);
process.exit(tally.failed === 0 ? 0 : 1);
