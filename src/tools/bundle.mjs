import { createHash } from "node:crypto";
import { copyFileSync, existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join, relative } from "node:path";
import { root } from "./setup.mjs";

/** Where the bundled programs go. */
export const dist = join(root, "dist");

const sourceFolders = ["src"];
const sourceFiles = ["package.json", "package-lock.json", "tsconfig.json"];

/**
 * Bundles the command line, the design's process and the types of the language, unless they are up to date.
 * @param {(text: string) => void} say told what goes on
 */
export async function ensureBundled(say) {
  const wanted = fingerprint();
  const stamp = join(dist, ".built-from");
  if (existsSync(stamp) && readFileSync(stamp, "utf8") === wanted) return;
  say("Building…");
  await bundle();
  writeFileSync(stamp, wanted);
}

/** Bundles all of it. */
export async function bundle() {
  const { build } = await import("esbuild");
  mkdirSync(dist, { recursive: true });
  const shared = {
    absWorkingDir: root,
    bundle: true,
    platform: "node",
    // Some packages bundle well only by their ES modules.
    mainFields: ["module", "main"],
    target: "node20",
    logLevel: "warning",
    sourcemap: true,
    sourcesContent: false,
    define: { "process.env.ANADEM_VERSION": JSON.stringify(packageVersion()) },
  };
  const require = createRequire(import.meta.url);
  await Promise.all([
    build({
      ...shared,
      entryPoints: ["src/cli/main.ts"],
      outfile: join(dist, "anadem.mjs"),
      format: "esm",
      external: ["esbuild"],
      // Bundled CommonJS packages ask for Node's own modules with require.
      banner: {
        js: 'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);',
      },
    }),
    build({
      ...shared,
      entryPoints: ["src/build/evaluatorProcess.ts"],
      outfile: join(dist, "evaluator.cjs"),
      format: "cjs",
    }),
    bundleTypes(),
  ]);
  copyFileSync(require.resolve("manifold-3d/manifold.wasm"), join(dist, "manifold.wasm"));
}

/** The language's types as one file, for the editor of somebody who has installed nothing. */
async function bundleTypes() {
  const [{ rollup }, { dts }] = await Promise.all([import("rollup"), import("rollup-plugin-dts")]);
  const types = await rollup({
    input: join(root, "src/design/index.ts"),
    external: [/^@jscad\//],
    plugins: [
      dts({
        tsconfig: join(root, "tsconfig.json"),
        compilerOptions: { stripInternal: true, paths: {}, types: [] },
      }),
    ],
    onwarn: (warning, tell) => warning.code !== "UNUSED_EXTERNAL_IMPORT" && tell(warning),
  });
  await types.write({ file: join(dist, "anadem.d.ts"), format: "es" });
  await types.close();
}

function packageVersion() {
  return JSON.parse(readFileSync(join(root, "package.json"), "utf8")).version;
}

/** Stands for the state of the sources: changes when any of them does. */
function fingerprint() {
  const hash = createHash("sha256").update(process.version);
  for (const file of [...sourceFolders.flatMap(filesBelow), ...sourceFiles]) {
    const path = join(root, file);
    if (existsSync(path)) hash.update(file).update(readFileSync(path));
  }
  return hash.digest("hex");
}

/** @returns {string[]} */
function filesBelow(folder) {
  return readdirSync(join(root, folder))
    .sort()
    .flatMap((name) => {
      const path = join(folder, name);
      return statSync(join(root, path)).isDirectory() ? filesBelow(path) : [relative("", path)];
    });
}
