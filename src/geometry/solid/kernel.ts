import type { Manifold, ManifoldToplevel, Mesh } from "manifold-3d";
import createModule from "manifold-3d";

/** The solid kernel (manifold-3d, WebAssembly), loaded once a process. */
export interface Kernel {
  readonly Manifold: typeof Manifold;
  readonly Mesh: typeof Mesh;
  readonly module: ManifoldToplevel;
}

let loaded: Promise<Kernel> | undefined;

/**
 * Loads the kernel, or gives the one that is loaded.
 * @param wasmFile path of `manifold.wasm`; beside the kernel's own script unless given
 */
export function loadKernel(wasmFile?: string): Promise<Kernel> {
  loaded ??= createModule(wasmFile === undefined ? undefined : { locateFile: () => wasmFile }).then(
    (module) => {
      module.setup();
      return { Manifold: module.Manifold, Mesh: module.Mesh, module };
    },
  );
  return loaded;
}

/** The union of solids, made now: operations are put off until something asks for their result. */
export function unionOf({ Manifold }: Kernel, solids: readonly Manifold[]): Manifold {
  const union = Manifold.union([...solids]);
  union.numTri();
  return union;
}

/**
 * Holds the kernel's objects of one piece of work and frees them together: they live outside of JavaScript's
 * memory and would stay for ever (60 builds leak over a gigabyte).
 */
export class Scope {
  readonly #held = new Set<Manifold>();

  /** Takes charge of an object and gives it back. */
  hold(solid: Manifold): Manifold {
    this.#held.add(solid);
    return solid;
  }

  /** Lets go of an object that is to outlive the scope. */
  release(solid: Manifold): Manifold {
    this.#held.delete(solid);
    return solid;
  }

  /** Frees all that is still held. */
  dispose(): void {
    for (const solid of this.#held) solid.delete();
    this.#held.clear();
  }
}
