import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import packageJson from "../../package.json" with { type: "json" };
import { faultsOf, packageExtension, readPackage, sizeBudget } from "../../src/tools/package.mjs";
import { root } from "../../src/tools/setup.mjs";

/** The one file that a person installs, packaged once and unpacked elsewhere. */

let home: string;
let entries: { path: string; packed: number; bytes: Buffer }[];
let size: number;
beforeAll(async () => {
  home = mkdtempSync(join(tmpdir(), "anadem-vsix-"));
  ({ entries, size } = readPackage(await packageExtension({ file: join(home, "anadem.vsix") })));
  for (const { path, bytes } of entries) {
    mkdirSync(dirname(join(home, path)), { recursive: true });
    writeFileSync(join(home, path), bytes);
  }
}, 300_000);
afterAll(() => rmSync(home, { recursive: true, force: true }));

const schemas = readdirSync(join(root, "src"), { recursive: true, encoding: "utf8" })
  .filter((path) => path.endsWith(".schema.json"))
  .map((path) => basename(path));
const steps = packageJson.contributes.walkthroughs[0].steps.map(({ media }) => media.svg);
const needed = [
  "LICENSE.txt",
  "NOTICES.txt",
  "changelog.md",
  ...[
    "anadem.d.ts",
    "anadem.mjs",
    "engine.cjs",
    "evaluator.cjs",
    "extension.cjs",
    "manifold.wasm",
    "modeling.d.ts",
  ].map((name) => `dist/${name}`),
  ...["measuringGuide", "preview", "refitTable"].flatMap((name) => [`dist/${name}.css`, `dist/${name}.js`]),
  ...schemas.map((name) => `dist/schemas/${name}`),
  "dist/snippets/data.code-snippets",
  "dist/snippets/design.code-snippets",
  "media/anadem.svg",
  "media/help/messages.md",
  "media/icon.png",
  ...steps,
  ...["globals.d.ts", "index.js", "package.json"].map(
    (name) => `node_modules/anadem-typescript-plugin/${name}`,
  ),
  ...["LICENSE.md", "esbuild.wasm", "lib/browser.min.js", "package.json"].map(
    (name) => `node_modules/esbuild-wasm/${name}`,
  ),
  "package.json",
  "readme.md",
];

test("lists what is needed and nothing else", () => {
  const paths = entries.map(({ path }) => path).filter((path) => path.startsWith("extension/"));
  expect(paths.map((path) => path.slice("extension/".length)).sort()).toEqual(needed.sort());
  const others = entries.map(({ path }) => path).filter((path) => !path.startsWith("extension/"));
  expect(others.sort()).toEqual(["[Content_Types].xml", "extension.vsixmanifest"]);
});

test("keeps within its budget", () => {
  expect(sizeBudget).toBeLessThanOrEqual(6_400_000);
  expect(size).toBeLessThan(sizeBudget);
});

test("is for every platform", () => {
  const about = entries.find(({ path }) => path === "extension.vsixmanifest")!.bytes.toString();
  expect(about).not.toContain("TargetPlatform");
  expect(faultsOf(entries, size)).toEqual([]);
});

test("what must not ship is found", () => {
  const fault = (path: string, bytes: string | Buffer) =>
    faultsOf([{ path, packed: 1, bytes: Buffer.from(bytes) }], 1).map((text) => text.replace(`${path} `, ""));
  expect(fault("bin/tool", Buffer.from("7f454c4602", "hex"))).toEqual(["is a native program"]);
  expect(fault("a.js.map", "{}")).toEqual(["is a source map"]);
  expect(fault("a.cjs", "x;\n//# sourceMappingURL=a.cjs.map\n")).toEqual([
    "names a source map, or holds one",
  ]);
  expect(fault("a.js", `"${join(root, "src", "secret.ts")}"`)).toEqual(["names a path of this machine"]);
  expect(fault("a.json", '"resolved": "https://registry.example/x.tgz"')).toEqual([
    "names a package registry",
  ]);
  expect(faultsOf([], sizeBudget + 1)).toHaveLength(1);
});

test("its manifest has what VS Code needs, and nothing of the workshop", () => {
  const manifest = JSON.parse(
    entries.find(({ path }) => path === "extension/package.json")!.bytes.toString(),
  );
  for (const key of ["scripts", "devDependencies", "bin", "private", "overrides", "type"]) {
    expect(manifest, key).not.toHaveProperty(key);
  }
  expect(manifest).toMatchObject({
    version: packageJson.version,
    main: "./dist/extension.cjs",
    publisher: "anadem",
  });
  expect(manifest.contributes).toEqual(packageJson.contributes);
  expect(manifest.engines).toEqual({ vscode: packageJson.engines.vscode });
});

test("holds the licence of every package that is in its programs", () => {
  const notices = entries.find(({ path }) => path === "extension/NOTICES.txt")!.bytes.toString();
  for (const name of ["three", "manifold-3d", "@jscad/modeling", "ajv", "jsonc-parser", "pure-rand"]) {
    const [, licence] = notices.split(`\n${name} `);
    expect(licence, name).toMatch(/^[\d.]+ \((MIT|Apache-2\.0|BSD-3-Clause|ISC)\)[\s\S]{200}/);
  }
});

test("its text for the extension's page names no file beside it", () => {
  const text = entries.find(({ path }) => path === "extension/readme.md")!.bytes.toString();
  const pictures = [...text.matchAll(/!\[[^\]]*\]\(([^)]{0,30})/g)].map(([, target]) => target);
  expect(pictures.length).toBeGreaterThan(0);
  for (const target of pictures) expect(target).toMatch(/^data:image\/png;base64,/);
});

test("unpacked, its command line builds a sample with no other program to be found", () => {
  const program = join(home, "extension", "dist", "anadem.mjs");
  const design = join(root, "samples", "coral-crown.headpiece.ts");
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [program, "build", design, "--out", join(home, "out"), "--json"],
    { encoding: "utf8", env: { PATH: home } },
  );
  expect({ status, stderr }).toEqual({ status: 0, stderr: "" });
  expect(JSON.parse(stdout)).toMatchObject({ ok: true, report: { headpiece: "Coral crown", closed: true } });
}, 300_000);
