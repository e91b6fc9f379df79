import { join } from "node:path";
import { loadKernel } from "../../src/geometry/solid/kernel";

/** Folder of the bundled programs. */
export const programFolder = process.env.ANADEM_PROGRAMS ?? "dist";
export const programs = {
  evaluator: join(programFolder, "evaluator.cjs"),
  kernel: join(programFolder, "manifold.wasm"),
};
export const kernel = await loadKernel(programs.kernel);
