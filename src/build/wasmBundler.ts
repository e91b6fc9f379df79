import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import type * as esbuild from "esbuild";

type Bundler = Pick<typeof esbuild, "context">;

type BrowserBuild = Bundler & {
  initialize(options: { wasmModule: WebAssembly.Module; worker: false }): Promise<void>;
};

/**
 * The bundler as WebAssembly, in this thread: one package for every platform, and no other program that would have to
 * be installed. The package's own way for Node starts a `node` from the search path, which an editor's machine need not
 * have; so this takes its build for browsers, which has no file system: all files come from plugins.
 * @param from absolute path of the script beside whose `node_modules` the package `esbuild-wasm` lies
 */
export async function wasmBundler(from: string): Promise<Bundler> {
  const require = createRequire(from);
  // What it looks for its host's own functions in.
  (globalThis as { self?: unknown }).self ??= globalThis;
  const library = require("esbuild-wasm/lib/browser.min.js") as BrowserBuild;
  const binary = readFileSync(require.resolve("esbuild-wasm/esbuild.wasm"));
  await library.initialize({ wasmModule: await WebAssembly.compile(binary), worker: false });
  return library;
}
