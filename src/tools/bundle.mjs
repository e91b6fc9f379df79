import { createHash } from "node:crypto";
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { createRequire } from "node:module";
import { basename, dirname, join, relative } from "node:path";
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
export const bundle = () => bundleInto(dist);

/**
 * Bundles all of it into a folder.
 * @param {string} folder
 * @param {{ types?: boolean }} options `types: false` leaves out the types of the language, which take the longest
 */
export async function bundleInto(folder, { types = true } = {}) {
  const { build } = await import("esbuild");
  mkdirSync(folder, { recursive: true });
  const require = createRequire(import.meta.url);
  await Promise.all([
    bundleProgram("src/cli/main.ts", join(folder, "anadem.mjs")),
    build({
      ...forNode(),
      ...lean,
      entryPoints: ["src/build/evaluatorProcess.ts"],
      outfile: join(folder, "evaluator.cjs"),
      format: "cjs",
    }),
    types && bundleTypes(folder),
  ]);
  copyFileSync(require.resolve("manifold-3d/manifold.wasm"), join(folder, "manifold.wasm"));
  rmSync(join(folder, "schemas"), { recursive: true, force: true });
  mkdirSync(join(folder, "schemas"), { recursive: true });
  for (const file of filesBelow("src").filter((name) => name.endsWith(".schema.json"))) {
    copyFileSync(join(root, file), join(folder, "schemas", basename(file)));
  }
}

/**
 * Bundles a program for Node as one ES module.
 * @param {string} source relative to the project
 * @param {string} outfile
 */
export async function bundleProgram(source, outfile) {
  const { build } = await import("esbuild");
  await build({
    ...forNode(),
    ...lean,
    entryPoints: [source],
    outfile,
    format: "esm",
    external: ["esbuild", "esbuild-wasm"],
    // Bundled CommonJS packages ask for Node's own modules with require.
    banner: {
      js: 'import { createRequire as __createRequire } from "node:module"; const require = __createRequire(import.meta.url);',
    },
  });
}

/** What a program that ships leaves out. Names stay: its errors tell them. */
export const lean = { minifyWhitespace: true, minifySyntax: true, legalComments: "none" };

/** What all programs for Node are bundled with. */
export const forNode = () => ({
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
});

/** The language's types, and those of @jscad/modeling, for the editor of somebody who has installed nothing. */
export async function bundleTypes(folder) {
  const require = createRequire(import.meta.url);
  const modeling = join(dirname(require.resolve("@jscad/modeling/package.json")), "src", "index.d.ts");
  await writeTypes(join(root, "src", "design", "index.ts"), join(folder, "anadem.d.ts"), "");
  await writeTypes(
    modeling,
    join(folder, "modeling.d.ts"),
    "// Types of @jscad/modeling. MIT licence, copyright (c) JSCAD Organization.",
  );
}

/** Some of the package's types are imported by a default export that their own file forgets to declare. */
const forgottenDefaults = {
  name: "forgotten-defaults",
  transform(code, id) {
    const name = basename(id, ".d.ts");
    const forgotten =
      !/export (default|\{[^}]*default)/.test(code) && new RegExp(`function ${name}\\b`).test(code);
    return id.includes("@jscad") && forgotten ? `${code}\nexport default ${name};\n` : undefined;
  },
};

async function writeTypes(input, file, banner) {
  const [{ rollup }, { dts }] = await Promise.all([import("rollup"), import("rollup-plugin-dts")]);
  const types = await rollup({
    input,
    plugins: [
      forgottenDefaults,
      dts({
        respectExternal: true,
        includeExternal: ["@jscad/modeling"],
        tsconfig: join(root, "tsconfig.json"),
        compilerOptions: { stripInternal: true, paths: {}, types: [] },
      }),
    ],
  });
  await types.write({ file, format: "es", banner });
  await types.close();
}

const packageVersion = () => manifest().version;

/** The project's package.json. */
export const manifest = () => JSON.parse(readFileSync(join(root, "package.json"), "utf8"));

/** Stands for the state of the sources: changes when any of them does. */
export function fingerprint() {
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
