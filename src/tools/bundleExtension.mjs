import { copyFileSync } from "node:fs";
import { join } from "node:path";
import { forNode, lean } from "./bundle.mjs";
import { root } from "./setup.mjs";

/** Folder name of the TypeScript server plugin, below the extension's `node_modules`. */
export const typescriptPlugin = "anadem-typescript-plugin";

/** The plugin's source. */
export const typescriptPluginSource = "src/extension/typescript/plugin.ts";

/** The programs that only the editor runs; the command line needs none of them. */
const programs = (folder) => [
  { source: "src/extension/extension.ts", options: commonJs(join(folder, "dist", "extension.cjs")) },
  { source: "src/build/service/engineProcess.ts", options: commonJs(join(folder, "dist", "engine.cjs")) },
  {
    source: typescriptPluginSource,
    options: {
      ...commonJs(join(folder, "node_modules", typescriptPlugin, "index.js")),
      // The TypeScript server calls what the module itself is.
      footer: { js: "module.exports = module.exports.default;" },
    },
  },
  // Its style sheet comes out beside it.
  { source: "src/preview/main.ts", options: forBrowser(join(folder, "dist", "preview.js")) },
  { source: "src/pages/refitTable/main.ts", options: forBrowser(join(folder, "dist", "refitTable.js")) },
  {
    source: "src/pages/measuringGuide/main.ts",
    options: forBrowser(join(folder, "dist", "measuringGuide.js")),
  },
];

/**
 * Bundles the extension's side, the engine's process, the preview and the TypeScript plugin into an extension's folder.
 * @param {string} folder
 * @param {{ maps?: boolean, only?: string }} options `maps`: with source maps, which name the sources and do not hold
 *   them; `only`: the one program of this source
 * @returns {Promise<string[]>} the packages that went into them, by folder
 */
export async function bundleExtension(folder, { maps = true, only } = {}) {
  const { build } = await import("esbuild");
  const built = await Promise.all(
    programs(folder)
      .filter(({ source }) => only === undefined || source === only)
      .map(({ source, options }) =>
        build({
          ...options,
          entryPoints: [source],
          sourcemap: maps,
          metafile: true,
          // A person who debugs reads the code.
          minify: options.minify && !maps,
          ...(!options.minify && !maps && lean),
        }),
      ),
  );
  copyFileSync(
    join(root, "src", "extension", "typescript", "designGlobals.d.ts"),
    join(folder, "node_modules", typescriptPlugin, "globals.d.ts"),
  );
  return packagesOf(built.flatMap(({ metafile }) => Object.keys(metafile.inputs)));
}

/** Folders of the packages that files come from, sorted. */
export function packagesOf(files) {
  const folders = files.map((file) => /^(.*node_modules\/(?:@[^/]+\/)?[^/]+)\//.exec(file)?.[1]);
  return [...new Set(folders)].filter((folder) => folder !== undefined).sort();
}

const commonJs = (outfile) => ({
  ...forNode(),
  format: "cjs",
  outfile,
  external: ["vscode", "esbuild", "esbuild-wasm"],
  // A CommonJS program has no import.meta; what asks for it finds its own file.
  banner: { js: 'const __programUrl = require("node:url").pathToFileURL(__filename).href;' },
  define: { ...forNode().define, "import.meta.url": "__programUrl" },
});

const forBrowser = (outfile) => ({
  absWorkingDir: root,
  bundle: true,
  platform: "browser",
  format: "iife",
  target: ["chrome120"],
  outfile,
  minify: true,
  legalComments: "none",
  logLevel: "warning",
  sourcesContent: false,
});
