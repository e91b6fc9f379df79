import { spawnSync } from "node:child_process";
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { basename, join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import packageJson from "../../package.json" with { type: "json" };
import { auditStl } from "../../src/export/stlAudit";
import { bundleInto } from "../../src/tools/bundle.mjs";
import { root } from "../../src/tools/setup.mjs";
import { designText, wearerText } from "../cli/commandLine";

/** What goes to a person who installs the package, packed from a copy: the clone's own dist is left alone. */

let home: string;
let copy: string;
beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), "anadem-package-"));
  copy = join(home, "copy");
  mkdirSync(copy);
  for (const name of readdirSync(root)) {
    if (/^(package\.json|[A-Z]+(\.md)?)$/.test(name)) copyFileSync(join(root, name), join(copy, name));
  }
  await bundleInto(join(copy, "dist"));
  // What a working clone has besides.
  writeFileSync(join(copy, "dist", "bench.mjs"), "");
  writeFileSync(join(copy, "dist", ".built-from"), "");
  mkdirSync(join(copy, "src"));
  writeFileSync(join(copy, "src", "secret.ts"), "");
}, 240_000);
afterAll(() => rmSync(home, { recursive: true, force: true }));

function npm(...words: string[]) {
  const name = process.platform === "win32" ? "npm.cmd" : "npm";
  const { status, stdout, stderr } = spawnSync(name, words, {
    cwd: copy,
    encoding: "utf8",
    shell: process.platform === "win32",
    env: { ...process.env, npm_config_cache: join(home, "cache"), npm_config_update_notifier: "false" },
  });
  expect({ status, stderr: status === 0 ? "" : stderr }).toEqual({ status: 0, stderr: "" });
  return stdout;
}

const schemas = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
  .filter((path) => path.endsWith(".schema.json"))
  .map((path) => `dist/schemas/${basename(path)}`);
const needed = [
  "CHANGELOG.md",
  "LICENSE",
  "README.md",
  "dist/anadem.d.ts",
  "dist/anadem.mjs",
  "dist/evaluator.cjs",
  "dist/manifold.wasm",
  "dist/modeling.d.ts",
  "package.json",
];
/** Bytes: the kernel has 0.54 MB, the two programs 0.7 MB each. */
const budget = { packed: 1_000_000, unpacked: 3_500_000 };

test("holds what is needed and nothing else, within its budget", () => {
  const [packed] = JSON.parse(npm("pack", "--dry-run", "--json"));
  const paths = packed.files.map(({ path }: { path: string }) => path);
  expect(paths.filter((path: string) => !schemas.includes(path)).sort()).toEqual(needed);
  const shipped = readdirSync(join(copy, "dist", "schemas")).map((name) => `dist/schemas/${name}`);
  expect(paths.filter((path: string) => path.startsWith("dist/schemas/")).sort()).toEqual(shipped.sort());
  expect(packed.size).toBeLessThan(budget.packed);
  expect(packed.unpackedSize).toBeLessThan(budget.unpacked);
  expect(packed.version).toBe(packageJson.version);
});

describe("unpacked elsewhere, with nothing but its compiler beside", () => {
  let installed: string;
  let work: string;
  const anadem = (...words: string[]) =>
    spawnSync(process.execPath, [join(installed, packageJson.bin.anadem), ...words], {
      cwd: work,
      encoding: "utf8",
    });

  beforeAll(() => {
    npm("pack", "--pack-destination", home);
    const packed = readdirSync(home).find((name) => name.endsWith(".tgz"))!;
    spawnSync("tar", ["-xzf", packed], { cwd: home });
    installed = join(home, "package");
    work = join(home, "work");
    mkdirSync(work);
    mkdirSync(join(installed, "node_modules"));
    for (const name of ["esbuild", "@esbuild"]) {
      symlinkSync(join(root, "node_modules", name), join(installed, "node_modules", name), "junction");
    }
  });

  test("tells its version and its help", () => {
    expect(anadem("--version")).toMatchObject({ status: 0, stdout: `${packageJson.version}\n`, stderr: "" });
    expect(anadem("--help").stdout).toContain("anadem build DESIGN");
  });

  test("builds a design, with bodies of @jscad/modeling in it", () => {
    writeFileSync(join(work, "marin.wearer.json"), wearerText);
    const pearl = 'solid("pearl", primitives.sphere({ radius: 7 }), { at: ring.atAzimuth(60) }),';
    const imports = 'import { primitives } from "@jscad/modeling";\nimport { solid } from "anadem";';
    writeFileSync(join(work, "ring.headpiece.ts"), designText({ part: pearl, head: imports }));
    const { status, stdout, stderr } = anadem("build", "ring.headpiece.ts", "--json");
    expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
    const [stl] = JSON.parse(stdout).files.filter(({ kind }: { kind: string }) => kind === "stl");
    expect(auditStl(readFileSync(stl.path))).toMatchObject({ closed: true, pieces: 1 });
  });

  test("starts a new design", () => {
    expect(anadem("new", "reed-crown").status).toBe(0);
    expect(existsSync(join(work, ".anadem", "anadem.d.ts"))).toBe(true);
    expect(anadem("build", "reed-crown.headpiece.ts").status).toBe(0);
  });

  test("names no path of the machine that it was bundled on", () => {
    for (const file of ["anadem.mjs", "evaluator.cjs", "anadem.d.ts", "modeling.d.ts"]) {
      const text = readFileSync(join(installed, "dist", file), "utf8");
      expect(text.includes(root), file).toBe(false);
    }
  });
});
