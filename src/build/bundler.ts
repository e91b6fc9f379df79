import type * as esbuild from "esbuild";
import { wasmBundler } from "./wasmBundler";

/**
 * The door to the library that turns TypeScript into JavaScript. `esbuild` (native, one package a platform, 5 ms a
 * save) and `esbuild-wasm` (one package for all, 30 ms a save) have the same interface. The command line takes the
 * native one where it is installed; the editor's package has only the other.
 */
export type Bundler = Pick<typeof esbuild, "context">;

let load: () => Promise<Bundler> = () =>
  import("esbuild").catch((error: unknown) =>
    wasmBundler(process.argv[1]).catch(() => Promise.reject(error)),
  );
let loaded: Promise<Bundler> | undefined;

/** Takes another bundler from now on. */
export function useBundler(loader: () => Promise<Bundler>): void {
  load = loader;
  loaded = undefined;
}

/** The bundler, loaded at first need. */
export function bundler(): Promise<Bundler> {
  loaded ??= load();
  return loaded;
}
