import { fileURLToPath } from "node:url";
import type { EngineFiles } from "./engine";

/** The files that the engine runs, beside the bundled program that asks. */
export const installedFiles = (): EngineFiles & {
  readonly types: string;
  readonly modelingTypes: string;
} => ({
  evaluator: beside("evaluator.cjs"),
  kernel: beside("manifold.wasm"),
  types: beside("anadem.d.ts"),
  modelingTypes: beside("modeling.d.ts"),
});

const beside = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
