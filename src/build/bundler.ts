import type * as esbuild from "esbuild";

/**
 * The door to the library that turns TypeScript into JavaScript. `esbuild` (native, one package a platform)
 * and `esbuild-wasm` (one package for all) have the same interface, so a caller that ships the other one
 * names it here and nothing else changes.
 */
export type Bundler = Pick<typeof esbuild, "context">;

let load: () => Promise<Bundler> = () => import("esbuild");
let loaded: Promise<Bundler> | undefined;

/** Takes another bundler from now on, for example `() => import("esbuild-wasm")`. */
export function useBundler(loader: () => Promise<Bundler>): void {
  load = loader;
  loaded = undefined;
}

/** The bundler, loaded at first need. */
export function bundler(): Promise<Bundler> {
  loaded ??= load();
  return loaded;
}
